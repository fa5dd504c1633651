"""Entering, undoing, and what is kept of what was said."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.find import (
    enter,
    enter_many,
    keep_advice,
    last_act,
    note,
    session_of,
    set_value,
    undo,
    what_next,
)
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.nearby import may_light
from firstpull.bench.shop import Done, Shop


def put(shop: Shop, job: str, step: dict[str, Any], act: str) -> Done:
    return enter(shop, job, step, act_id=act, based_on=shop.record(job).last_seq, by="Wren")


HELD = {"access": "control-held", "state": "on"}
DARK = {"check": "spark-at-tester", "reading": "dark"}


def test_a_reading_keeps_the_arrangement_it_was_taken_in(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, HELD, "a")
    put(shop, mower_job, DARK, "b")
    body = shop.record(mower_job).readings[0].body
    assert "control-held" in body["arrangement"]["added"]
    assert body["arrangement"]["drive"] == "rope"
    assert body["implied"] == ["plug-lead", "tester-on-lead"]


def test_a_reading_that_contradicts_the_recorded_access_is_kept_with_its_question(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, {"access": "cover", "state": "on"}, "a")
    put(shop, mower_job, {"check": "coil-gap", "reading": "0.3 mm"}, "b")
    put(shop, mower_job, DARK, "c")
    first, second = shop.record(mower_job).readings
    assert first.body["question"] == ["cover"]
    assert not second.body.get("question")


def test_an_act_sent_twice_is_entered_once(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, DARK, "a")
    put(shop, mower_job, DARK, "a")
    assert len(shop.record(mower_job).readings) == 1


@pytest.mark.parametrize("step", [{"check": "spark"}, {"check": "coil-gap", "reading": "3 psi"}, {"repair": "magic"}])
def test_a_step_that_cannot_be_read_is_refused_and_nothing_is_kept(
    shop: Shop, mower_job: str, step: dict[str, Any]
) -> None:
    with pytest.raises(FirstpullError):
        put(shop, mower_job, step, "a")
    assert shop.record(mower_job).last_seq == 1


def test_acts_done_together_are_kept_together_or_not_at_all(shop: Shop, mower_job: str) -> None:
    how: dict[str, Any] = {"based_on": 1, "by": "Wren"}
    enter_many(shop, mower_job, [{"access": "fuel", "state": "off"}, {"repair": "renew-plug"}], act_id="a", **how)
    assert shop.record(mower_job).last_seq == 3
    with pytest.raises(FirstpullError):
        enter_many(shop, mower_job, [HELD, {"repair": "magic"}], act_id="b", **how)
    assert shop.record(mower_job).last_seq == 3


def test_the_last_act_can_be_withdrawn_and_then_the_one_before(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, HELD, "a")
    put(shop, mower_job, DARK, "b")
    assert last_act(shop.record(mower_job)) == ("b", "spark-at-tester dark")
    undo(shop, mower_job, "b", act_id="u", based_on=3, by="Wren")
    assert last_act(shop.record(mower_job))[0] == "a"
    undo(shop, mower_job, "a", act_id="v", based_on=4, by="Wren")
    with pytest.raises(InputError, match="nothing to undo"):
        last_act(shop.record(mower_job))
    with pytest.raises(InputError, match="no act"):
        undo(shop, mower_job, "zzz", act_id="w", based_on=5, by="Wren")


def test_a_note_needs_words(shop: Shop, mower_job: str) -> None:
    note(shop, mower_job, " chafed at the cover ", act_id="n", based_on=1, by="Wren")
    assert shop.record(mower_job).notes[0].body["text"] == "chafed at the cover"
    with pytest.raises(InputError):
        note(shop, mower_job, "  ", act_id="m", based_on=2, by="Wren")


def test_a_value_is_written_down_in_the_unit_the_repair_asks_for(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, {"repair": "renew-plug"}, "a")
    set_value(shop, mower_job, "plug-gap", "30", "thou", act_id="b", based_on=2, by="Wren")
    body = shop.record(mower_job).values[0].body
    assert (body["unit"], body["value"]) == ("mm", pytest.approx(0.762))
    with pytest.raises(FirstpullError):
        set_value(shop, mower_job, "plug-gap", "30", "psi", act_id="c", based_on=3, by="Wren")


def test_what_was_said_is_kept_as_it_was_said(shop: Shop, mower_job: str) -> None:
    put(shop, mower_job, HELD, "a")
    put(shop, mower_job, DARK, "b")
    said = what_next(shop, mower_job, depth=1)
    keep_advice(shop, mower_job, said, act_id="said")
    kept = shop.record(mower_job).advised[0].body
    assert kept["next"]["id"] == said["next"]["id"]
    assert kept["suspects"][0] == said["suspects"][0]
    assert kept["stamp"] == said["stamp"]


def test_scripts_are_told_of_open_fuel_beside_them_exactly_when_the_next_step_may_light_it(
    shop: Shop, mower_job: str
) -> None:
    other = take_in(shop, Counter("Bram", "0555", "won't start", "60", "walk-mower-ohv"), act_id="in-2", by="Wren")
    put(shop, other, {"access": "bowl", "state": "off"}, "a2")
    put(shop, mower_job, HELD, "a")
    put(shop, mower_job, DARK, "b")
    step = what_next(shop, mower_job, depth=1)["next"]
    told = [c["text"].startswith("Fuel is open on job") for c in step["cautions"]]
    assert any(told) == may_light(session_of(shop, shop.record(mower_job)), step)
    assert not any(told[1:])
