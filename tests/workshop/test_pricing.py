"""Lines, tax and totals in decimal money."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import InputError
from firstpull.workshop.pricing import Line, Minutes, PartPrice, Span, total_of, with_minimum
from tests.workshop.shop_prices import eur, shop, span

CENTS = st.decimals("0", "9999.99", places=2, allow_nan=False)


def test_labour_is_minutes_times_the_rate_to_the_cent() -> None:
    prices = shop(rate_per_hour=eur("59.90"))
    assert prices.labour(20) == eur("19.97")
    assert prices.labour(0) == eur("0.00")


def test_tax_is_put_on_once_on_the_sum() -> None:
    lines = [Line("part", "washer", Span.flat(eur("0.03"))) for _ in range(3)]
    total = total_of(lines, shop(tax=Decimal("0.19")))
    assert (total.net.usual, total.tax.usual, total.due.usual) == (eur("0.09"), eur("0.02"), eur("0.11"))


def test_prices_with_tax_inside_show_the_tax_and_do_not_add_it() -> None:
    total = total_of([Line("service", "s", Span.flat(eur("119.00")))], shop(tax=Decimal("0.19"), tax_included=True))
    assert (total.tax.usual, total.due.usual) == (eur("19.00"), eur("119.00"))


def test_the_minimum_charge_tops_up_what_lies_below_it() -> None:
    prices = shop(minimum=eur("25.00"))
    lines = with_minimum((Line("labour", "l", span("10.00", "20.00", "40.00")),), prices)
    assert total_of(lines, prices).net == span("25.00", "25.00", "40.00")
    assert with_minimum((Line("labour", "l", span("30.00", "30.00", "40.00")),), prices)[1:] == ()


@given(st.lists(st.tuples(CENTS, CENTS, CENTS), max_size=6), st.decimals("0", "1", places=3, allow_nan=False))
def test_what_is_due_is_net_plus_tax_and_rises_from_low_to_high(
    amounts: list[tuple[Decimal, Decimal, Decimal]], tax: Decimal
) -> None:
    lines = [Line("part", "p", span(*(str(one) for one in sorted(three)))) for three in amounts]
    total = total_of(lines, shop(tax=tax, minimum=eur("12.34")))
    assert total.due.low <= total.due.usual <= total.due.high
    assert total.due.usual == total.net.usual + total.tax.usual


@pytest.mark.parametrize("minutes", [(-1, 0, 0), (2, 1, 3), (0, 0, float("nan")), (0, 0, float("inf"))])
def test_minutes_that_do_not_rise_are_refused(minutes: tuple[float, float, float]) -> None:
    with pytest.raises(InputError):
        Minutes(*minutes)


def test_prices_that_cannot_be_meant_are_refused() -> None:
    with pytest.raises(InputError):
        PartPrice("coil", span("3.00", "2.00", "1.00"))
    with pytest.raises(InputError):
        shop(tax=Decimal("-0.1"))
