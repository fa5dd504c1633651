"""What it will cost before it is known what is wrong."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import InputError
from firstpull.base.money import Money
from firstpull.workshop.estimate import (
    EstimateInput,
    Suspect,
    estimate,
    likely_suspects,
    lines_for,
    phone_card,
)
from firstpull.workshop.pricing import Minutes, Prices, Service, total_of
from tests.workshop.shop_prices import COIL, LEAD, REST, asked, eur, shop, span


def test_the_range_covers_the_likely_suspects_and_names_what_is_left() -> None:
    found = estimate(asked())
    assert [one.name for one in found.likely] == ["chafed stop lead", "dead coil"]
    # lead: 15, 20, 30 minutes at 1.00; coil: 20+40, 25+55, 40+80; the fee is credited; tax 20 %.
    assert (found.due.low, found.due.high) == (eur("18.00"), eur("144.00"))
    assert found.due.usual == eur("50.53")  # (0.6 x 24.00 + 0.35 x 96.00) / 0.95
    assert found.left_over == pytest.approx(0.05)
    assert found.standing == "likely, not proved"


def test_a_sound_machine_pays_for_finding_and_has_nothing_credited() -> None:
    sound = Suspect("nothing to mend", 1.0, Minutes(0, 0, 0))
    (line,) = lines_for(sound, asked())
    assert line.kind == "find"
    assert estimate(EstimateInput((sound,), shop())).due.high == shop().with_tax(shop().find_fee)


def test_the_card_says_the_fee_the_stop_the_range_and_the_day() -> None:
    card = phone_card(asked())
    assert (card.find_fee, card.stop_minutes, card.wait_days) == (eur("36.00"), 30, 3)
    said = (
        "I charge €36.00 to find it, and after 30 minutes I stop and call you. It is likely, not proved: chafed "
        "stop lead or dead coil. That comes to €18.00 to €144.00, usually €50.53, with tax. Less than 1 in 10 it is "
        "something else; then I call you first. If I mend it, the fee for finding counts towards it. The earliest "
        "day is Tuesday, April 14, 2026. Nothing above what you agree to without asking you again."
    )
    assert card.sentence == said
    assert card.asks == ("yes to find it, up to €36.00", "yes to mend it, up to €144.00")


def test_a_card_speaks_the_money_of_the_place() -> None:
    prices = Prices(Money.of(6000, "JPY"), Money.of(3000, "JPY"), tax=Decimal("0.1"))
    card = phone_card(EstimateInput((LEAD,), prices, locale="ja_JP"))
    assert card.usual == Money.of(2200, "JPY")
    assert "3,300" in card.sentence
    german = phone_card(asked(locale="de-DE")).sentence
    assert "36,00\xa0€" in german
    assert "14. April 2026" in german
    with pytest.raises(InputError):
        phone_card(asked(locale="xx_nowhere"))


def test_nothing_suspected_is_the_fee_and_nothing_else() -> None:
    card = phone_card(asked(suspects=()))
    assert (card.low, card.high, card.standing) == (eur("36.00"), eur("36.00"), "not known yet")
    assert card.asks == ("yes to find it, up to €36.00",)


def test_a_proof_makes_it_proved() -> None:
    assert "It is proved: dead coil." in phone_card(asked(suspects=(COIL,), proved=True)).sentence


def test_each_suspect_is_itemised_with_the_condition_of_its_parts() -> None:
    lines = lines_for(COIL, asked())
    assert [(line.kind, line.condition) for line in lines] == [
        ("find", ""), ("labour", ""), ("part", "new"), ("credit", ""),
    ]  # fmt: skip
    assert total_of(lines, shop()).due == span("72.00", "96.00", "144.00")


def test_a_fee_that_is_not_credited_stays_on_the_bill() -> None:
    prices = shop(fee_credited=False)
    assert total_of(lines_for(LEAD, asked(prices=prices)), prices).due.usual == eur("60.00")


def test_a_flat_price_is_a_line_of_its_own() -> None:
    clean = Suspect(
        "gummed carburettor", 1.0, Minutes(0, 0, 0), (), (Service("clean", "carburettor clean", eur("45")),)
    )
    assert estimate(asked(suspects=(clean,))).due == span("54.00", "54.00", "54.00")


@pytest.mark.parametrize(
    ("worth", "verdict"), [("400.00", "mend"), ("120.00", "ask"), ("30.00", "retire"), (None, "unknown")]
)
def test_the_repair_is_held_against_what_the_machine_is_worth(worth: str | None, verdict: str) -> None:
    found = estimate(asked(worth=None if worth is None else eur(worth)))
    assert found.worth.verdict == verdict
    assert ("I would not mend it" in phone_card(asked(worth=found.worth.worth)).sentence) == (verdict == "retire")


def test_a_spending_limit_below_the_range_is_pointed_out() -> None:
    assert estimate(asked(limit=eur("100.00"))).above_limit
    assert not estimate(asked(limit=eur("144.00"))).above_limit


def test_the_ways_to_go_on_are_priced_side_by_side() -> None:
    prices = shop(reassembly_fee=eur("10.00"), seasonal=Service("season", "seasonal service", eur("50.00")))
    found = estimate(asked(suspects=(COIL,), prices=prices))
    assert {way.kind: way.due.usual for way in found.options} == {
        "mend": eur("96.00"), "mend-and-service": eur("156.00"), "return": eur("48.00"),
    }  # fmt: skip
    assert "back as it is, that is €48.00 in all" in phone_card(asked(prices=prices)).sentence
    assert [way.kind for way in estimate(asked(suspects=())).options] == ["return"]


def test_odds_that_are_none_are_refused() -> None:
    with pytest.raises(InputError):
        Suspect("x", 1.2, Minutes(1, 1, 1))


@given(
    st.lists(
        st.builds(
            lambda odds, low, more, most: Suspect("s", odds, Minutes(low, low + more, low + more + most)),
            st.floats(0, 1), st.floats(0, 500), st.floats(0, 500), st.floats(0, 500),
        ),
        max_size=8,
    )
)  # fmt: skip
def test_usual_always_lies_between_low_and_high(suspects: list[Suspect]) -> None:
    found = estimate(asked(suspects=tuple(suspects)))
    assert found.due.low <= found.due.usual <= found.due.high
    assert 0 <= found.left_over <= 1


def test_suspects_are_priced_best_first_until_enough_is_covered() -> None:
    chosen, left_over = likely_suspects([REST, LEAD, COIL], 0.5)
    assert (chosen, round(left_over, 9)) == ((LEAD,), 0.4)
    assert likely_suspects([REST], 0.9)[0] == (REST,)
    assert likely_suspects([], 0.9) == ((), 1.0)
