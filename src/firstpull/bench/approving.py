"""Two yeses: one to find it, one to mend it. Above the agreed sum nothing goes on without a new one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.base.money import Money
from firstpull.bench.billing import agreed_on, bill_of, ordered_sum
from firstpull.bench.ourselves import ourselves, read_sum
from firstpull.bench.shop import Done, Shop
from firstpull.workshop.approvals import Agreed
from firstpull.workshop.fold import JobRecord, money_of

TO = ("find", "mend", "scrap")


@dataclass(frozen=True, slots=True)
class Approved:
    """What became of a yes or a no, what stands agreed now, and what must be said about it."""

    done: Done
    agreed: Agreed
    warnings: tuple[str, ...]


def approve(
    shop: Shop, job: str, to: str, who: str, limit: str, how: str, *, act_id: str, based_on: int, by: str,
    yes: bool = True, words: str = "",
) -> Approved:
    """Keep who said yes (or no), to what, up to what sum, and how: by telephone, at the counter, in writing.

    An empty `limit` agrees to the act and to no more money than was agreed before. For a page: `warnings` are
    sentences to show beside the answer; `done.waits` means that somebody else changed the job and nothing was kept.

    Raises:
        FirstpullError: everything that is missing or cannot be read; nothing is kept then.
    """
    own = ourselves(shop)
    errors: list[FirstpullError] = []
    if to not in TO:
        errors.append(InputError(f"nobody can say yes to '{to}'", "to", ", ".join(TO)))
    if not who.strip():
        errors.append(InputError("no name", "who", "who said it"))
    if not how.strip():
        errors.append(InputError("no word on how it was said", "how", "by telephone, at the counter, in writing"))
    up_to: Money | None = None
    if limit.strip():
        try:
            up_to = read_sum(limit, own.currency, "sum")
        except FirstpullError as error:
            errors.append(error)
    if errors:
        raise errors[0] if len(errors) == 1 else ManyErrors(errors)
    record = shop.record(job)
    body: dict[str, Any] = {"to": to, "yes": yes, "who": who.strip(), "how": how.strip()}
    if up_to is not None and yes:
        body["sum"] = {"amount": str(up_to.amount), "currency": up_to.currency}
    if words.strip():
        body["words"] = words.strip()
    if record.estimates:
        body["estimate"] = record.estimates[-1].act_id
    done = shop.do(job, "approval", body, act_id=act_id, based_on=based_on, by=by)
    now = agreed_on(done.record)
    return Approved(done, now, limit_warnings(shop, done.record))


def limit_warnings(shop: Shop, record: JobRecord) -> tuple[str, ...]:
    """What must be said about money on a job: an estimate, parts or a bill above what was agreed."""
    own, now = ourselves(shop), agreed_on(record)
    said: list[str] = []
    if now.last is not None and not now.last.body.get("yes"):
        return (f"{_who(now)} said no: nothing more is done to it but putting it back together.",)
    if now.limit is None:
        said.append("No sum was agreed: nothing may be charged before somebody says yes to one.")
        return tuple(said)
    limit = own.money(now.limit)
    high = money_of(record.estimates[-1].body.get("high")) if record.estimates else None
    if high is not None and not now.allows(high):
        said.append(f"The estimate may come to {own.money(high)}; agreed is {limit}. Ask before going above it.")
    ordered = ordered_sum(shop, record)
    if not now.allows(ordered):
        said.append(f"Parts on order come to {own.money(ordered)}; agreed is {limit}. Ask before going on.")
    owed = bill_of(shop, record)
    if owed.needs_a_yes:
        said.append(
            f"The work so far comes to {own.money(owed.total.due.usual)}; agreed is {limit}. "
            f"{own.money(owed.above_limit)} cannot be charged without a new yes."
        )
    return tuple(said)


def _who(now: Agreed) -> str:
    return str(now.last.body.get("who") or "The owner") if now.last is not None else "The owner"
