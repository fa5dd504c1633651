"""Money, days and odds as people say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import InputError
from firstpull.base.money import Money
from firstpull.workshop.saying import say_day, say_money, say_odds


@pytest.mark.parametrize(
    ("money", "locale", "said"),
    [
        (Money.of("1234.5", "EUR"), "de-DE", "1.234,50\xa0€"),
        (Money.of("1234.5", "USD"), "en_US", "$1,234.50"),
        (Money.of("1234", "JPY"), "en", "¥1,234"),
        (Money.of("1.5", "KWD"), "en", "KWD1.500"),
    ],
)
def test_money_is_written_as_in_that_place(money: Money, locale: str, said: str) -> None:
    assert say_money(money, locale) == said


def test_a_narrow_place_has_the_day_without_its_name() -> None:
    assert say_day("2026-04-14", "en_GB", "long") == "14 April 2026"
    assert say_day("2026-04-14", "en_GB", "medium") == "14 Apr 2026"


def test_a_day_that_is_none_is_said_as_it_is() -> None:
    assert say_day("next week") == "next week"
    assert say_day("2026-04-14", "fr") == "mardi 14 avril 2026"
    with pytest.raises(InputError):
        say_day("2026-04-14", "nowhere")


@pytest.mark.parametrize(
    ("probability", "said"),
    [
        (0.0, "hardly ever"),
        (0.05, "less than 1 in 10"),
        (0.12, "about 1 in 10"),
        (0.5, "about 5 in 10"),
        (0.94, "about 9 in 10"),
        (0.96, "more than 9 in 10"),
        (1.0, "nearly sure"),
    ],
)
def test_odds_are_said_in_tenths(probability: float, said: str) -> None:
    assert say_odds(probability) == said


@given(st.floats(0, 1))
def test_odds_never_say_none_or_all_of_ten(probability: float) -> None:
    assert not say_odds(probability).startswith(("about 0", "about 10"))
