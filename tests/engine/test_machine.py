"""Machines: parameters in, quantities worked out once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.base.errors import FirstpullError
from firstpull.engine.machine import RULES, Machine, rule
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]
assert callable(predict)  # importing it registers the rules


def machine(params: dict[str, FloatArray] | None = None, count: int = 3) -> Machine:
    return Machine(params or {}, {}, Conditions(), Arrangement(off=frozenset({"plug"})), Setup(), count)


def test_a_parameter_not_given_stands_at_its_healthy_middle() -> None:
    np.testing.assert_allclose(machine().parameter("air_gap_mm"), np.full(3, 0.275))


def test_a_parameter_given_is_used_as_given() -> None:
    given = np.array([0.1, 0.2, 0.3])
    assert machine({"air_gap_mm": given}).parameter("air_gap_mm") is given


def test_unknown_names_are_refused() -> None:
    with pytest.raises(FirstpullError, match="unknown parameter 'air_gap'"):
        machine().parameter("air_gap")
    with pytest.raises(FirstpullError, match="no rule for 'spark'"):
        machine().quantity("spark")


def test_sizes_are_numbers_and_traits_are_words() -> None:
    assert machine().size("displacement_cm3") == 160.0
    assert machine().trait("trigger") == "solid-state"
    with pytest.raises(FirstpullError, match="'trigger' is a word"):
        machine().size("trigger")


def test_a_quantity_is_worked_out_once_however_often_it_is_asked_for() -> None:
    held = Machine({}, {}, Conditions(), Arrangement(added=frozenset({"control-held"}), drive="rope"), Setup(), 2)
    for name in ("tester_margin", "spark_btdc_deg", "tester_kv", "tester_margin"):
        held.quantity(name)
    assert held.runs["break_state"] == 1
    assert max(held.runs.values()) == 1


def test_a_machine_remembers_which_parameters_and_tokens_were_asked_for() -> None:
    asked = machine()
    asked.parameter("air_gap_mm")
    assert asked.off("plug")
    assert not asked.added("tester-on-lead")
    assert asked.used == {"air_gap_mm"}
    assert asked.asked == {"plug", "tester-on-lead"}


def test_a_quantity_has_one_rule_only() -> None:
    with pytest.raises(FirstpullError, match="two rules for 'crank_rpm'"):
        rule("crank_rpm")(lambda m: np.zeros(m.count))
    assert "crank_rpm" in RULES


def test_the_same_machines_in_another_arrangement_are_made_once() -> None:
    here, hot = machine(), Arrangement(thermal="hot")
    assert here.rearranged(here.arrangement) is here
    assert here.rearranged(hot) is here.rearranged(Arrangement(thermal="hot"))
    assert here.rearranged(hot).arrangement.thermal == "hot"


def test_a_copy_with_other_parameters_finds_no_views_of_the_first() -> None:
    here, hot = machine({"air_gap_mm": np.full(3, 0.2)}), Arrangement(thermal="hot")
    here.rearranged(hot)
    other = replace(here, params={"air_gap_mm": np.full(3, 0.9)}, _known={})
    np.testing.assert_allclose(other.rearranged(hot).parameter("air_gap_mm"), np.full(3, 0.9))
