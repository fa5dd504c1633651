"""Minutes come from the clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.clocking import set_clock
from firstpull.bench.shop import Shop
from tests.bench.coil_job import how, taken_in


def test_hands_on_and_waiting_are_counted_apart(shop: Shop) -> None:
    moment = [datetime(2026, 4, 11, 12, 0, tzinfo=UTC)]
    shop.clock = lambda: moment[0]
    job = taken_in(shop)
    for state, waiting, minutes in (("started", False, 25), ("started", True, 60), ("paused", False, 0)):
        set_clock(shop, job, state, waiting=waiting, **how(shop, job))
        moment[0] += timedelta(minutes=minutes)
    worked = shop.record(job).worked
    assert (worked.hands_on, worked.waiting) == (25.0, 60.0)


def test_a_clock_neither_started_nor_paused_is_refused(shop: Shop) -> None:
    job = taken_in(shop)
    with pytest.raises(FirstpullError):
        set_clock(shop, job, "wound", **how(shop, job))
