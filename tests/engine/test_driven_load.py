"""Turning things: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, driven_load


@given(st.floats(0.1, 3.0), st.floats(100.0, 900.0), st.floats(500.0, 4000.0))
def test_energy_goes_with_the_square_of_speed(mass: float, length: float, rpm: float) -> None:
    inertia = driven_load.bar_inertia_kgm2(np.full(2, mass), np.full(2, length))
    slow, fast = driven_load.turning_energy_j(inertia, np.array([rpm, 2.0 * rpm]))
    assert fast == pytest.approx(4.0 * slow)


def test_a_balanced_blade_leaves_the_engine_its_own_shaking() -> None:
    still = driven_load.shaking_mm_s(np.zeros(1), np.array([3000.0]), 24.0, np.zeros(1))
    assert still[0] == pytest.approx(constants.value("engine_shake_mm_s"))


@given(st.floats(0.0, 5000.0), st.floats(1.0, 500.0), st.floats(0.0, 1.0))
def test_imbalance_and_loose_mounts_shake_more(imbalance: float, more: float, loose: float) -> None:
    rpm = np.full(2, 3000.0)
    tight = driven_load.shaking_mm_s(np.array([imbalance, imbalance + more]), rpm, 24.0, np.zeros(2))
    assert tight[1] > tight[0]
    slack = driven_load.shaking_mm_s(np.array([imbalance, imbalance + more]), rpm, 24.0, np.full(2, loose))
    assert np.all(slack >= tight)


def test_a_belt_that_is_off_passes_nothing_and_a_new_one_all() -> None:
    new, glazed, off = driven_load.belt_grip(
        np.array([0.0, 0.3, 0.0]), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0])
    )
    assert new == 1.0
    assert 0.0 < glazed < 0.8
    assert off == 0.0


def test_a_spring_of_a_quarter_lets_the_clutch_bite_at_half_the_speed() -> None:
    bite = driven_load.clutch_bite_rpm(np.full(2, 4000.0), np.array([0.0, 0.75]))
    assert bite == pytest.approx([4000.0, 2000.0])


def test_a_tool_creeps_when_idle_is_above_the_bite() -> None:
    still, creeping = driven_load.creeps(np.array([2800.0, 4300.0]), np.full(2, 4000.0))
    assert still < 0.01
    assert creeping > 0.9
