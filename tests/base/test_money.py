"""Money."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money, minor_digits

AMOUNTS = st.decimals(min_value=-(10**9), max_value=10**9, places=2)


@given(a=AMOUNTS, b=AMOUNTS)
def test_what_is_added_can_be_taken_away_to_the_last_cent(a: Decimal, b: Decimal) -> None:
    assert Money.of(a, "EUR") + Money.of(b, "EUR") - Money.of(b, "EUR") == Money.of(a, "EUR")


@given(amounts=st.lists(AMOUNTS, min_size=1, max_size=20))
def test_a_sum_of_minor_units_is_the_minor_unit_of_the_sum(amounts: list[Decimal]) -> None:
    total = Money.of(0, "USD")
    for amount in amounts:
        total = total + Money.of(amount, "USD")
    assert total.minor == sum(Money.of(amount, "USD").minor for amount in amounts)


@pytest.mark.parametrize(
    ("text", "currency", "shown"),
    [("2.345", "EUR", "2.35"), ("2.344", "EUR", "2.34"), ("-2.345", "EUR", "-2.35"), ("99.5", "JPY", "100"),
     ("1.2345", "KWD", "1.235")],
)  # fmt: skip
def test_amounts_round_half_up_to_the_minor_unit_of_the_currency(text: str, currency: str, shown: str) -> None:
    assert str(Money.of(text, currency).amount) == shown


def test_minor_units_count_in_the_digits_of_the_currency() -> None:
    assert Money.of("12.50", "EUR").minor == 1250
    assert Money.of("12", "JPY").minor == 12
    assert minor_digits("XYZ") == 2


def test_two_currencies_cannot_be_added_or_compared() -> None:
    euro, dollar = Money.of(1, "EUR"), Money.of(1, "USD")
    with pytest.raises(FirstpullError, match="USD"):
        euro + dollar
    with pytest.raises(FirstpullError, match="USD"):
        euro - dollar
    with pytest.raises(FirstpullError, match="USD"):
        assert euro < dollar


@given(a=AMOUNTS, b=AMOUNTS)
def test_order_of_money_is_the_order_of_the_amounts(a: Decimal, b: Decimal) -> None:
    assert (Money.of(a, "EUR") < Money.of(b, "EUR")) == (a < b)
    assert (Money.of(a, "EUR") <= Money.of(b, "EUR")) == (a <= b)


@pytest.mark.parametrize("currency", ["eur", "EURO", "E1R", ""])
def test_what_is_no_currency_is_refused(currency: str) -> None:
    with pytest.raises(FirstpullError, match="not a currency code"):
        Money.of(1, currency)


@pytest.mark.parametrize("amount", ["NaN", "Infinity"])
def test_what_is_no_amount_is_refused(amount: str) -> None:
    with pytest.raises(FirstpullError, match="not an amount"):
        Money.of(amount, "EUR")


def test_labour_is_minutes_times_rate_to_the_cent() -> None:
    assert Money.of("54", "EUR") * (Decimal(25) / Decimal(60)) == Money.of("22.50", "EUR")
