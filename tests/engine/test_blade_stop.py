"""The blade brake: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import blade_stop, constants


@given(st.floats(0.005, 0.1), st.floats(100.0, 500.0), st.floats(0.5, 10.0), st.floats(1e-7, 1e-4))
def test_stop_time_falls_with_torque_and_rises_with_inertia(
    inertia: float, speed: float, torque: float, air: float
) -> None:
    def time(j: float, t: float) -> float:
        return float(blade_stop.stop_time_s(*(np.array([x]) for x in (j, speed, t, air)))[0])

    assert time(inertia, 1.2 * torque) < time(inertia, torque) < time(1.2 * inertia, torque)
    assert time(inertia, torque) <= inertia * speed / torque * (1.0 + 1e-9)


def test_a_worn_out_lining_keeps_a_little_of_its_torque() -> None:
    new, worn, oily = blade_stop.brake_torque_nm(5.0, np.array([0.0, 1.0, 0.0]), np.ones(3), np.array([0.0, 0.0, 1.0]))
    assert new == 5.0
    assert worn == pytest.approx(5.0 * (1.0 - constants.value("pad_wear_loss")))
    assert oily < 2.0


def test_a_slack_cable_leaves_the_brake_on() -> None:
    right, slack = blade_stop.brake_frees(np.array([1.5, 15.0]))
    assert right > 0.98
    assert slack < 0.02
