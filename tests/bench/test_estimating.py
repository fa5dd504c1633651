"""The estimate and the card for the telephone."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money
from firstpull.bench.approving import approve
from firstpull.bench.estimating import (
    estimate_input,
    kept_estimate,
    look_estimate,
    make_estimate,
    phone_card,
    shown,
)
from firstpull.bench.ourselves import keep_charges, ourselves
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, how, put, taken_in


def test_an_estimate_names_what_is_likely_says_that_it_is_not_proved_and_adds_up(shop: Shop) -> None:
    said = look_estimate(shop, found(shop))
    assert said.standing == "likely, not proved"
    assert "renew the coil" in said.likely[0].name
    usual = sum(_sum(line.usual) for line in said.likely[0].lines)
    assert usual == pytest.approx(_sum(said.likely[0].usual))
    assert _sum(said.low) <= _sum(said.usual) <= _sum(said.high)


def _sum(text: str | None) -> float:
    assert text is not None
    return float(text.replace("€", "").replace(",", ""))


def test_more_evidence_narrows_the_range(shop: Shop) -> None:
    early, late = look_estimate(shop, taken_in(shop)), look_estimate(shop, found(shop))
    assert len(late.likely) < len(early.likely)


def test_looking_keeps_nothing_and_making_keeps_what_was_said(shop: Shop) -> None:
    job = found(shop)
    before = shop.record(job).last_seq
    look_estimate(shop, job)
    phone_card(shop, job)
    assert shop.record(job).last_seq == before
    done, said = make_estimate(shop, job, how="telephone", **how(shop, job))
    assert done.record.estimates[-1].body["how"] == "telephone"
    assert done.record.stage == "estimate-sent"
    assert kept_estimate(shop, done.record) == said


def test_a_kept_estimate_stands_as_it_was_said_when_prices_rise(shop: Shop) -> None:
    job = found(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    keep_charges(shop, {"rate_per_hour": 600, "find_fee": "99"})
    shop.forget_live()
    assert kept_estimate(shop, shop.record(job)) == said
    assert _sum(look_estimate(shop, job).high) > _sum(said.high)


def test_sent_twice_it_is_kept_once(shop: Shop) -> None:
    job = found(shop)
    act = how(shop, job)
    _, first = make_estimate(shop, job, **act)
    done, again = make_estimate(shop, job, **act)
    assert len(done.record.estimates) == 1
    assert first == again


def test_a_limit_below_the_high_end_is_said_and_one_above_is_not(shop: Shop) -> None:
    assert "€30.00" in look_estimate(shop, found(shop, limit="30")).warning
    assert look_estimate(shop, found(shop, limit="5000")).warning == ""


def test_a_yes_to_mend_replaces_the_limit_of_the_counter(shop: Shop) -> None:
    job = found(shop, limit="30")
    approve(shop, job, "mend", "Ada", "5000", "by telephone", **how(shop, job))
    assert estimate_input(shop, job).limit == Money.of(5000, "EUR")
    assert look_estimate(shop, job).warning == ""


def test_a_limit_said_in_another_money_is_named_and_not_compared(shop: Shop) -> None:
    job = taken_in(shop)
    body: dict[str, Any] = {"limit": {"amount": "80", "currency": "GBP"}, "high": {"amount": "90", "currency": "EUR"}}
    assert "another currency" in shown(ourselves(shop), body, job).warning


def test_the_card_says_the_fee_the_stop_the_range_and_asks_for_two_yeses(shop: Shop) -> None:
    card = phone_card(shop, found(shop), earliest="2026-04-18")
    for words in (card.find_fee, card.low, card.high, card.usual, "likely, not proved", "April 18"):
        assert words is not None
        assert words in card.sentence
    assert [a.split()[2] for a in card.asks] == ["find", "mend"]
    assert card.stop_minutes == 30


def test_where_nothing_needs_mending_the_fee_for_finding_is_all_and_is_not_credited_away(shop: Shop) -> None:
    job = taken_in(shop, complaint="just a service")
    asked = estimate_input(shop, job)
    sound = next(s for s in asked.suspects if s.name == "nothing to mend")
    assert sound.minutes.high == 0
    card = look_estimate(shop, job)
    nothing = next(x for x in card.likely if x.name == "nothing to mend")
    assert (nothing.low, nothing.high) == ("€25.00", "€25.00")


def test_a_machine_of_unknown_kind_has_no_estimate_yet(shop: Shop) -> None:
    job = taken_in(shop, machine="")
    with pytest.raises(FirstpullError, match="kind"):
        look_estimate(shop, job)


@pytest.mark.parametrize("body", [{}, {"likely": [{}]}, {"options": None, "worth": None, "left_over": None}])
def test_what_an_older_event_does_not_hold_is_shown_as_nothing(shop: Shop, body: dict[str, Any]) -> None:
    said = shown(ourselves(shop), body, "")
    assert said.low is said.high is said.valid_until is None
    assert said.worth == said.warning == ""


def test_tax_is_in_what_the_customer_hears(shop: Shop) -> None:
    job = found(shop)
    plain = look_estimate(shop, job)
    keep_charges(shop, {"tax": "0.2"})
    taxed = look_estimate(shop, job)
    assert _sum(taxed.high) == pytest.approx(1.2 * _sum(plain.high), abs=0.02)
    assert taxed.tax == "and 20 in 100 tax"


def test_a_trial_repair_that_did_not_help_stays_in_the_price(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"repair": "renew-plug"}, {"check": "will-not-start", "reading": "still"})
    assert all("renew the plug" in one.name for one in look_estimate(shop, job).likely)
