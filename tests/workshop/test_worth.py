"""Mend it or retire it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from firstpull.workshop.worth import against_worth
from tests.workshop.shop_prices import eur, span

DUE = span("40.00", "60.00", "90.00")


@pytest.mark.parametrize(
    ("worth", "verdict"),
    [
        ("180.00", "mend"),
        ("179.98", "ask"),
        ("80.00", "ask"),
        ("79.98", "retire"),
        ("0.00", "unknown"),
        (None, "unknown"),
    ],
)
def test_the_bounds_are_half_of_the_worth(worth: str | None, verdict: str) -> None:
    assert against_worth(DUE, None if worth is None else eur(worth)).verdict == verdict


def test_the_share_is_that_of_the_usual_price_and_the_shop_may_set_its_own_bound() -> None:
    assert against_worth(DUE, eur("240.00")).share == Decimal("0.25")
    assert against_worth(DUE, eur("100.00"), Decimal("0.9")).verdict == "mend"
