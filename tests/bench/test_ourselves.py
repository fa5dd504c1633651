"""Who the shop is and what it charges."""

from __future__ import annotations

from decimal import Decimal

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money
from firstpull.bench.ourselves import charges, keep_charges, keep_shop_words, ourselves, prices, read_sum
from firstpull.bench.shop import Shop


def test_a_shop_that_wrote_nothing_down_has_no_invented_name_or_terms(shop: Shop) -> None:
    own = ourselves(shop)
    assert (own.words.name, own.words.lines, own.words.terms, own.words.warranty) == ("", (), (), ())
    assert own.name == "Repair bench"
    assert own.money(None) is None
    assert own.day("") is None


def test_the_demonstration_is_the_invented_bench_of_harrow_vale(shop: Shop) -> None:
    shop.demo = True
    assert "Harrow Vale" in ourselves(shop).name


def test_what_was_written_down_comes_back_and_speaks_the_place_s_language(shop: Shop) -> None:
    keep_shop_words(shop, {"name": "Mill Yard", "lines": ["3 Mill Yard"], "currency": "GBP", "locale": "en_GB"})
    own = ourselves(shop)
    assert own.money(Money.of("1234.5", "GBP")) == "£1,234.50"
    assert own.day("2026-04-11") == "Saturday, 11 April 2026"
    assert own.short_day("2026-04-11") == "11 April 2026"


@pytest.mark.parametrize(
    "said", [{"currency": "pounds"}, {"locale": "klingon-QQ"}, {"nmae": "x"}, {"period_days": -1}, {"lines": 7}]
)
def test_shop_words_that_cannot_be_meant_are_refused_and_not_kept(shop: Shop, said: dict[str, object]) -> None:
    with pytest.raises(FirstpullError):
        keep_shop_words(shop, said)
    assert shop.store.get_setting("shop") is None


def test_the_rate_has_one_owner_read_by_planner_and_bill(shop: Shop) -> None:
    keep_charges(shop, {"rate_per_hour": "48.50", "tax": "0.19", "minimum": "20"})
    assert shop.prices().rate_per_hour == 48.5
    assert prices(shop).rate_per_hour == Money.of("48.50", "EUR")
    assert prices(shop).minimum == Money.of(20, "EUR")
    assert charges(shop).tax == Decimal("0.19")


@pytest.mark.parametrize(
    "said", [{"tax": "1.9"}, {"find_fee": "-3"}, {"rate_per_hour": "much"}, {"rate_per_hour": 0}, {"mark_up": "NaN"},
             {"services": {"blade": {"name": "", "price": "9"}}}],
)
def test_charges_that_cannot_be_meant_are_refused_and_nothing_of_them_is_kept(
    shop: Shop, said: dict[str, object]
) -> None:
    with pytest.raises(FirstpullError):
        keep_charges(shop, said)
    assert shop.store.get_setting("charges") is None
    assert shop.prices().rate_per_hour == 60.0


@pytest.mark.parametrize("text", ["", "eighty", "nan", "inf", "-1", "1e9", "1e999999", "8,0,0"])
def test_a_sum_that_is_none_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(FirstpullError, match="sum"):
        read_sum(text, "EUR", "sum")


def test_a_comma_is_a_decimal_point() -> None:
    assert read_sum(" 34,50 ", "EUR", "sum") == Money.of("34.50", "EUR")
