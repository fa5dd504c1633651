"""A record becomes the same live job again; what it cannot use is kept and said."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from firstpull.bench.case import read_case
from firstpull.bench.find import enter, undo
from firstpull.bench.replay import conditions_of, replay
from firstpull.bench.shop import Shop
from firstpull.bench.stateless import start
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.prices import Prices

STEPS: list[dict[str, Any]] = [
    {"told": "in-the-rain", "answer": "yes"},
    {"access": "control-held", "state": "on"},
    {"check": "spark-at-tester", "reading": "dark", "times": 2, "while": "failing"},
    {"access": "stop-lead", "state": "off"},
    {"check": "spark-at-tester", "reading": "lights", "with": {"drive": "drill"}},
    {"check": "coil-gap", "reading": "0.3 mm", "spread": "0.02 mm", "instrument": "feelers"},
    {"check": "leak-down", "reading": {"loss": "9 %", "hiss": []}},
    {"check": "camera-look", "reading": "not-done"},
    {"repair": "renew-plug", "by": "owner"},
    {"check": "will-not-start", "reading": "still"},
]


def entered(shop: Shop, job: str, steps: list[dict[str, Any]]) -> None:
    for number, step in enumerate(steps):
        enter(shop, job, step, act_id=f"s{number}", based_on=shop.record(job).last_seq, by="Wren")


def test_the_record_gives_the_same_acts_and_state_as_the_steps_themselves(shop: Shop, mower_job: str) -> None:
    entered(shop, mower_job, STEPS)
    live = replay(shop.room, shop.record(mower_job), Prices())
    assert live is not None
    raw = {"machine": "walk-mower-ohv", "complaint": ["will-not-start"], "step": STEPS}
    direct = start(shop.room, read_case(raw, shop.room.book), 2)
    assert live.notices == ()
    assert live.session.acts == direct.acts
    assert live.session.state == direct.state
    assert live.session.masked == direct.masked == {"camera-look"}


def test_the_same_events_give_the_same_belief(shop: Shop, mower_job: str) -> None:
    entered(shop, mower_job, STEPS[:5])
    record = shop.record(mower_job)
    one, two = (replay(shop.room, record, Prices()) for _ in range(2))
    assert one is not None
    assert two is not None
    assert one.session.belief().fault_probability == pytest.approx(two.session.belief().fault_probability, abs=1e-9)


def test_what_was_withdrawn_counts_no_longer(shop: Shop, mower_job: str) -> None:
    entered(shop, mower_job, STEPS[:3])
    undo(shop, mower_job, "s2", act_id="u", based_on=shop.record(mower_job).last_seq, by="Wren")
    live = replay(shop.room, shop.record(mower_job), Prices())
    assert live is not None
    assert [s.id for s in live.session.steps] == ["in-the-rain", "control-held"]


def test_an_id_that_the_handbook_no_longer_holds_is_kept_said_and_left_out(shop: Shop, mower_job: str) -> None:
    entered(shop, mower_job, STEPS[1:3])
    seen = shop.record(mower_job).last_seq
    shop.do(mower_job, "reading", {"check": "moon-phase", "reading": "full"}, act_id="x", based_on=seen, by="Wren")
    shop.do(mower_job, "repair", {"repair": "new-moon"}, act_id="y", based_on=seen + 1, by="Wren")
    record = shop.record(mower_job)
    live = replay(shop.room, record, Prices())
    assert live is not None
    assert len(live.notices) == 2
    assert "moon-phase" in live.notices[0]
    assert [s.id for s in live.session.steps] == ["control-held", "spark-at-tester"]
    assert [e.body["check"] for e in record.readings] == ["spark-at-tester", "moon-phase"]


def test_an_event_of_a_newer_program_is_kept_said_and_left_out(shop: Shop, mower_job: str) -> None:
    entered(shop, mower_job, STEPS[1:3])
    record = shop.record(mower_job)
    newer = replace(record.events[-1], seq=record.last_seq + 1, act_id="n", version=99, body={"check": 7})
    live = replay(shop.room, replace(record, events=(*record.events, newer)), Prices())
    assert live is not None
    assert "newer program" in live.notices[0]
    assert len(live.session.steps) == 2


def test_a_machine_of_unknown_class_cannot_be_reckoned(shop: Shop, mower_job: str) -> None:
    assert replay(shop.room, replace(shop.record(mower_job), machine_class="hovercraft"), Prices()) is None


def test_a_day_that_was_not_recorded_is_a_usual_one(shop: Shop, mower_job: str) -> None:
    record = shop.record(mower_job)
    assert conditions_of(record) == Conditions()
    assert conditions_of(replace(record, conditions={"altitude_m": 900, "air_c": "mild"})).altitude_m == 900
    assert conditions_of(replace(record, conditions={"air_c": "mild"})).air_c == Conditions().air_c
