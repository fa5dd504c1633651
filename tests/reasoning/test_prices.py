"""Minutes and money at the shop's rate."""

from __future__ import annotations

from firstpull.reasoning.prices import Prices


def test_minutes_and_money_turn_into_each_other_at_the_rate() -> None:
    prices = Prices(rate_per_hour=90.0)
    assert prices.money(40.0) == 60.0
    assert prices.minutes(60.0) == 40.0
