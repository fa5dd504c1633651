"""Generators: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, generator

ONE = np.ones(1)


def test_residual_volts_decide_whether_it_builds_up() -> None:
    none, edge, plenty = generator.builds_up(np.array([0.2, 1.5, 4.0]), np.ones(3))
    assert none < 0.01
    assert edge == pytest.approx(0.5)
    assert plenty > 0.95


def test_an_open_field_never_builds_up() -> None:
    assert generator.builds_up(np.array([4.0]), np.zeros(1))[0] < 1e-6


def test_a_short_brush_loses_contact() -> None:
    long, short = generator.brush_share(np.array([8.0, 1.5]), np.ones(2))
    assert long > 0.99
    assert short < 0.05


@given(st.floats(0.0, 1.0))
def test_a_regulator_holds_nominal_while_the_field_can_give_it(load: float) -> None:
    held = generator.regulated_share(np.array([1.45]), np.zeros(1), load, 0.12)
    assert held[0] == pytest.approx(1.0)


def test_a_stuck_regulator_gives_all_there_is() -> None:
    assert generator.regulated_share(np.array([1.45]), ONE, 0.0, 0.12)[0] == pytest.approx(1.45)


def test_volts_sag_once_the_field_is_full() -> None:
    none, full = (generator.regulated_share(np.array([1.05]), np.zeros(1), load, 0.12)[0] for load in (0.0, 1.0))
    assert none == pytest.approx(1.0)
    assert full == pytest.approx(0.93)


@given(st.floats(0.85, 1.1), st.floats(0.75, 1.2))
def test_a_capacitor_set_follows_speed_and_capacitance(speed: float, capacitance: float) -> None:
    at = [np.array([value]) for value in (speed, capacitance)]
    base = generator.capacitor_share(at[0], at[1], ONE, 0.0, 0.12)[0]
    assert generator.capacitor_share(at[0] * 1.03, at[1], ONE, 0.0, 0.12)[0] > base
    assert generator.capacitor_share(at[0], at[1] * 1.05, ONE, 0.0, 0.12)[0] > base


def test_a_capacitor_that_lost_most_of_its_value_excites_nothing() -> None:
    assert generator.capacitor_share(ONE, np.array([0.3]), ONE, 0.0, 0.12)[0] < 0.02


def test_an_open_winding_reads_open_and_shorted_turns_read_low() -> None:
    sound, short, opened = generator.winding_ohm(55.0, np.array([1.0, 0.6, 1.0]), np.array([0.0, 0.0, 1.0]))
    assert sound == pytest.approx(55.0)
    assert short == pytest.approx(33.0)
    assert opened == pytest.approx(constants.value("open_ohm"))


@given(st.floats(0.3, 1.2), st.floats(0.05, 0.3))
def test_full_field_volts_rise_with_every_part(share: float, more: float) -> None:
    def volts(**parts: float) -> float:
        whole = {"speed_share": 1.0, "rotor_turns": 1.0, "stator_turns": 1.0, "brush": 1.0, "gain": 1.0} | parts
        return float(generator.full_field_share(**{name: np.array([value]) for name, value in whole.items()})[0])

    for part in ("speed_share", "rotor_turns", "brush", "gain"):
        assert volts(**{part: min(share + more, 1.2)}) >= volts(**{part: share})
