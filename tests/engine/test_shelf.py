"""What is worked out in one arrangement and holds in another."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.base.draws import uniform
from firstpull.engine import vocabulary, wiring
from firstpull.engine.machine import Machine
from firstpull.engine.predict import shown
from firstpull.engine.shelf import Noted, Place, Shelf, Trace
from firstpull.engine.vocabulary.types import CHOKES, DRIVES, LOADS, THERMALS, Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]
OFF = sorted(t.id for t in vocabulary.TOKENS.values() if not t.added)
ADDED = sorted(t.id for t in vocabulary.TOKENS.values() if t.added)
ARRANGEMENTS = st.builds(
    Arrangement, st.frozensets(st.sampled_from(OFF), max_size=3), st.frozensets(st.sampled_from(ADDED), max_size=3),
    st.sampled_from(DRIVES), st.sampled_from(THERMALS), st.sampled_from(CHOKES), st.sampled_from(LOADS),
)  # fmt: skip
SETUPS = st.sampled_from([Setup(), Setup({"tester_gap_mm": 6.0, "gauge_hose_cm3": 30.0}), Setup({"by_user": 1.0})])
NAMES = st.sampled_from(sorted(vocabulary.OBSERVABLES))
PARAMS = {key: p.low + uniform((3, key), 5) * (p.high - p.low) for key, p in vocabulary.PARAMETERS.items()}
HELD = Arrangement(added=frozenset({"control-held"}), drive="rope")


def machines(arrangement: Arrangement = HELD, setup: Setup | None = None) -> Machine:
    return Machine(PARAMS, {}, Conditions(), arrangement, setup or Setup(), 5)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(ARRANGEMENTS, SETUPS, NAMES), min_size=2, max_size=8))
def test_asked_one_after_the_other_or_each_alone_machines_show_the_same(
    asked: list[tuple[Arrangement, Setup, str]],
) -> None:
    shared = machines()
    for arrangement, setup, name in asked:
        alone = shown(machines(arrangement, setup), name)
        np.testing.assert_array_equal(shown(shared.rearranged(arrangement, setup), name), alone)


def test_the_spark_is_not_worked_out_again_for_a_fuel_cap() -> None:
    shared = machines()
    shown(shared, "tester_margin")
    shown(shared.rearranged(replace(HELD, off=frozenset({"fuel-cap"}))), "tester_margin")
    assert shared.runs["break_state"] == 1
    shown(shared.rearranged(replace(HELD, off=frozenset({"stop-lead"}))), "tester_margin")
    assert shared.runs["break_state"] == 2


def test_the_leaks_of_the_fuel_side_are_the_same_whatever_spins_the_engine() -> None:
    shared = machines()
    for drive in DRIVES:
        shared.rearranged(replace(HELD, drive=drive)).quantity("tank_flow_ml_min")
    assert shared.runs["tank_flow_ml_min"] == 1


def test_no_rule_looks_past_the_questions_that_are_noted() -> None:
    for path in Path(wiring.__file__).parent.glob("*.py"):
        assert not re.search(r"arrangement\.(drive|thermal|choke|load)\b", path.read_text(encoding="utf-8")), path.name
        assert not re.search(r"\bin \w*\.?arrangement\.(off|added)\b", path.read_text(encoding="utf-8")), path.name


def test_another_gap_of_the_tester_asks_the_margin_again_but_not_the_coil() -> None:
    shared = Machine({}, {}, Conditions(), HELD, Setup(), 1)
    small, wide = (shown(shared.rearranged(HELD, Setup({"tester_gap_mm": gap})), "tester_margin") for gap in (3.0, 9.0))
    assert wide[0] < small[0]
    assert shared.runs["tester_margin"] == 2
    assert shared.runs["tester_kv"] == 1


def test_other_parameters_find_nothing_on_the_shelf() -> None:
    weak = {**PARAMS, "magnet_strength": np.full(5, 0.3)}
    shared = machines()
    strong = shown(shared, "tester_kv")
    alone = shown(Machine(weak, {}, Conditions(), HELD, Setup(), 5), "tester_kv")
    np.testing.assert_array_equal(shown(replace(shared, params=weak, _known={}), "tester_kv"), alone)
    assert not np.array_equal(strong, alone)


def test_a_given_quantity_is_taken_as_it_is_and_does_not_reach_machines_without_it() -> None:
    shared = machines()
    slow = replace(shared, _known={"crank_rpm": np.full(5, 50.0)})
    np.testing.assert_array_equal(slow.quantity("crank_rpm"), np.full(5, 50.0))
    dark = slow.quantity("tester_kv")
    np.testing.assert_array_equal(shared.quantity("tester_kv"), machines().quantity("tester_kv"))
    again = replace(shared, _known={"crank_rpm": np.full(5, 50.0)})
    assert again.quantity("tester_kv") is dark


def test_the_usual_machine_of_a_class_is_one_in_the_same_arrangement_and_leaves_no_trace_of_parameters() -> None:
    shared = machines()
    usual = shared.usual()
    assert usual.quantity("crank_rpm").shape == (1,)
    assert usual.arrangement == shared.arrangement
    assert shared.used == set()


def test_only_what_was_asked_tells_places_apart() -> None:
    shelf, trace, value = Shelf(), Trace(off={"plug"}, setup={"gap"}), np.ones(2)
    room = shelf.room({}, {}, Conditions(), 2)
    room.keep("thing", Place(Arrangement(off=frozenset({"plug", "bowl"})), Setup({"gap": 1.0}), {}), trace, value)

    def there(off: set[str], gap: float) -> bool:
        return room.find("thing", Place(Arrangement(off=frozenset(off)), Setup({"gap": gap}), {})) is not None

    assert there({"plug"}, 1.0)
    assert not there(set(), 1.0)
    assert not there({"plug"}, 2.0)
    assert room.find("other", Place(Arrangement(), Setup(), {})) is None


def test_equal_numbers_given_twice_are_one_array() -> None:
    shelf, first = Shelf(), np.arange(3.0)
    assert shelf.given("rpm", first) is first
    assert shelf.given("rpm", np.arange(3.0)) is first
    assert shelf.given("rpm", np.zeros(3)) is not first


@pytest.mark.parametrize("name", ["gap", "hose"])
def test_a_setup_notes_what_a_running_rule_asks(name: str) -> None:
    shelf = Shelf()
    noted = Noted({"gap": 2.0}, shelf.running)
    assert noted.get(name, 7.0) == (2.0 if name == "gap" else 7.0)
    shelf.running.append(Trace())
    noted.get(name, 7.0)
    assert shelf.running[-1].setup == {name}
