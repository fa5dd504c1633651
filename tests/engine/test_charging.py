"""Charging: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import charging, constants

REST, ALL, NONE = np.array([12.4]), np.ones(1), np.zeros(1)


def test_an_open_coil_or_diode_leaves_the_battery_where_it_was() -> None:
    dead = charging.coil_vac(30.0, np.array([3600.0]), ALL, ALL)
    assert dead[0] == 0.0
    assert charging.charge_v(REST, dead, ALL, NONE, True, True)[0] == REST[0]
    assert charging.charge_v(REST, np.array([30.0]), NONE, NONE, True, True)[0] == REST[0]


@given(st.floats(0.0, 80.0))
def test_a_regulator_never_passes_its_level(vac: float) -> None:
    volts = charging.charge_v(REST, np.array([vac]), ALL, NONE, True, True)[0]
    assert REST[0] <= volts <= constants.value("regulated_v")


def test_a_dead_regulator_that_passes_everything_overcharges() -> None:
    assert charging.charge_v(REST, np.array([30.0]), ALL, ALL, True, True)[0] > 14.7


def test_coil_volts_go_with_speed() -> None:
    slow, fast = charging.coil_vac(30.0, np.array([1800.0, 3600.0]), np.ones(2), np.zeros(2))
    assert fast == pytest.approx(2.0 * slow)
