"""Electric starting: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import starter_electrics


def crank(
    rest: float = 12.6, inner: float = 0.018, way: float = 0.005, motor: float = 0.03, torque: float = 8.0
) -> starter_electrics.Cranking:
    volts, inside, outside, winding, wanted = (np.array([value]) for value in (rest, inner, way, motor, torque))
    return starter_electrics.cranking(volts, inside, outside, winding, wanted, 12.0, 0.0135)


@given(st.floats(9.0, 13.0), st.floats(0.005, 0.3), st.floats(0.001, 0.2), st.floats(0.01, 0.3), st.floats(1.0, 60.0))
def test_volts_add_up_round_the_circuit(rest: float, inner: float, way: float, motor: float, torque: float) -> None:
    found = crank(rest, inner, way, motor, torque)
    back = found.crank_rpm * 2.0 * np.pi / 60.0 * 12.0 * 0.0135
    around = back + found.current_a * (inner + way + motor)
    assert around[0] == pytest.approx(rest, abs=1e-9)
    assert found.starter_v[0] <= found.battery_v[0] <= rest


def test_a_bad_joint_slows_it_but_leaves_the_battery_alone() -> None:
    sound, joint = crank(), crank(way=0.04)
    assert joint.crank_rpm[0] < 0.85 * sound.crank_rpm[0]
    assert joint.battery_v[0] == pytest.approx(sound.battery_v[0])


def test_a_weak_battery_pulls_its_own_posts_down() -> None:
    assert crank(inner=0.08).battery_v[0] < crank().battery_v[0] - 3.0


def test_a_locked_engine_stalls_the_starter() -> None:
    found = crank(torque=500.0)
    assert found.crank_rpm[0] == pytest.approx(0.0, abs=1e-9)
    assert found.current_a[0] == pytest.approx(12.6 / 0.053)


@given(st.floats(0.0, 0.99), st.floats(0.001, 0.5))
def test_a_fuller_battery_stands_higher_and_resists_less(charge: float, more: float) -> None:
    at = np.clip(np.array([charge, charge + more]), 0.0, 1.0)
    volts = starter_electrics.battery_rest_v(at, np.zeros(2))
    ohms = starter_electrics.battery_inner_ohm(np.full(2, 0.018), at, np.zeros(2))
    assert volts[1] > volts[0]
    assert ohms[1] < ohms[0]


def test_a_dead_cell_takes_two_volts() -> None:
    sound, dead = starter_electrics.battery_rest_v(np.ones(2), np.array([0.0, 1.0]))
    assert sound - dead == pytest.approx(2.1)
