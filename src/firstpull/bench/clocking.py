"""Minutes come from the clock: hands on, hands off, and waiting that is no labour."""

from __future__ import annotations

from firstpull.bench.shop import Done, Shop


def set_clock(
    shop: Shop, job: str, state: str, *, act_id: str, based_on: int, by: str, waiting: bool = False, on: str = ""
) -> Done:
    """Start or pause the clock of whoever acts; `waiting` marks a spell that is no labour (soaking, cooling).

    For a page: one tap; the minutes so far stand in `record.worked`.

    Raises:
        FirstpullError: the state is neither started nor paused.
    """
    body = {"state": state, "waiting": waiting, "on": on}
    return shop.do(job, "clock", body, act_id=act_id, based_on=based_on, by=by)
