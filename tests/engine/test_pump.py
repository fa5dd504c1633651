"""Pumps: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, pump

NONE = np.zeros(1)


def test_a_sound_pump_primes_in_its_own_time() -> None:
    suction = pump.pump_suction_kpa(NONE, NONE, NONE, NONE)
    assert suction[0] == constants.value("pump_vacuum_kpa")
    assert pump.prime_time_s(60.0, suction, np.ones(1))[0] == pytest.approx(60.0)


@given(st.floats(0.0, 20.0), st.floats(0.01, 5.0))
def test_a_bigger_air_leak_primes_later_and_pulls_less(leak: float, more: float) -> None:
    suction = pump.pump_suction_kpa(np.zeros(2), np.array([leak, leak + more]), np.zeros(2), np.zeros(2))
    time = pump.prime_time_s(60.0, suction, np.ones(2))
    assert suction[1] < suction[0]
    assert time[1] >= time[0]


def test_a_dry_pump_does_not_prime() -> None:
    suction = pump.pump_suction_kpa(NONE, NONE, np.ones(1), NONE)
    assert pump.prime_time_s(60.0, suction, np.ones(1))[0] == constants.value("prime_limit_s")


def test_trapped_pressure_turns_against_the_rope() -> None:
    assert pump.trapped_torque_nm(np.array([10e3]), 8.0)[0] == pytest.approx(10e6 * 8e-6 / (2.0 * np.pi))
