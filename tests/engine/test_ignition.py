"""The coil after the break."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.engine.ignition import (
    Secondary,
    key_step_mm,
    magnet_pull_mm,
    open_circuit_kv,
    ring_peak,
    spark_btdc,
    stored_mj,
)
from firstpull.engine.magneto import Break

FloatArray = NDArray[np.float64]


def coil(**changes: float) -> Secondary:
    nominal = {
        "turns_ratio": 75.0, "primary_h": 1.74e-3, "primary_ohm": 0.8, "secondary_ohm": 8000.0, "secondary_f": 50e-12,
        "primary_f": 22e-9, "core_loss_ohm": 2.5e6, "shorted": 0.0, "shunt_ohm": 1e12, "fouling_ohm": 1e12,
        "lead_leak_ohm": 1e12, "clamp_v": 350.0, "bias_ohm": 1138.0,
    }  # fmt: skip
    return Secondary(**{name: np.array([value]) for name, value in {**nominal, **changes}.items()})


def kv(current: float = 3.3, emf: float = 15.6, before: float = 5.4, **changes: float) -> float:
    cut = Break(np.ones(1), np.array([current]), np.array([-9.2]), np.array([emf]), np.array([before]))
    return float(open_circuit_kv(coil(**changes), cut)[0])


def _peak(damping: float, start: float, slope: float) -> float:
    return float(ring_peak(np.array([damping]), np.array([start]), np.array([slope]))[0])


def test_without_damping_the_whole_swing_arrives() -> None:
    assert _peak(0.0, 0.0, 1.0) == pytest.approx(1.0)
    assert _peak(0.0, -3.0, 4.0) == pytest.approx(5.0)


def test_at_critical_damping_one_part_in_e_arrives() -> None:
    assert _peak(1.0, 0.0, 1.0) == pytest.approx(np.exp(-1.0), rel=1e-5)
    assert _peak(1.0 - 1e-5, 0.0, 1.0) == pytest.approx(_peak(1.0 + 1e-5, 0.0, 1.0), rel=1e-4)


def test_with_great_damping_the_leak_alone_sets_the_voltage() -> None:
    # Current I into a resistance R: with y' = Z I and 2 z = Z / R the height tends to R I = y' / (2 z).
    assert _peak(1e4, 0.0, 1.0) == pytest.approx(0.5e-4, rel=1e-3)


@given(damping=st.floats(0.0, 50.0), start=st.floats(-2.0, 2.0), slope=st.floats(0.05, 5.0))
def test_the_peak_is_the_highest_point_of_the_traced_swing(damping: float, start: float, slope: float) -> None:
    # The differential equation traced by its matrix exponential, step by step.
    step = 2e-3
    root = np.sqrt(complex(damping**2 - 1.0)) if abs(damping - 1.0) > 1e-9 else 1e-6j
    time = np.concatenate([np.arange(0.0, 4.0, step), np.geomspace(4.0, 400.0, 400)])
    fast, slow = -damping - root, -1.0 / (damping + root)
    first = (slope - slow * start) / (fast - slow)
    traced = (first * np.exp(fast * time) + (start - first) * np.exp(slow * time)).real
    expected = max(float(traced.max()), 0.0)
    assert _peak(damping, start, slope) == pytest.approx(expected, rel=5e-3, abs=2e-3 * (slope + abs(start)))


@given(a=st.floats(0.0, 20.0), b=st.floats(0.0, 20.0))
def test_more_damping_never_gives_a_higher_first_peak(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert _peak(high, 0.0, 1.0) <= _peak(low, 0.0, 1.0) + 1e-9


@given(ohm=st.floats(0.5, 7.0), more=st.floats(0.01, 3.0))
def test_every_leak_costs_voltage(ohm: float, more: float) -> None:
    worse, better = 10.0**ohm, 10.0 ** (ohm + more)
    for leak in ("shunt_ohm", "fouling_ohm", "lead_leak_ohm"):
        assert kv(**{leak: worse}) <= kv(**{leak: better}) + 1e-9


@given(share=st.floats(0.0, 0.3), more=st.floats(0.001, 0.3))
def test_more_shorted_turns_cost_voltage(share: float, more: float) -> None:
    assert kv(shorted=share + more) < kv(shorted=share)


def test_a_shorted_stop_lead_leaves_next_to_nothing() -> None:
    assert kv(current=0.0, emf=0.0, before=0.0) == 0.0
    assert kv(shunt_ohm=0.05) < 0.12 * kv()


def test_a_leak_of_some_tens_of_ohms_halves_the_voltage_and_a_kilohm_costs_little() -> None:
    healthy = kv()
    assert 0.35 < kv(shunt_ohm=50.0) / healthy < 0.6
    assert kv(shunt_ohm=1000.0) > 0.93 * healthy
    assert kv(shunt_ohm=1e12) == pytest.approx(healthy)


def test_two_to_five_per_cent_of_shorted_turns_kill_the_cylinder_spark_and_hide_from_the_meter() -> None:
    healthy = kv()
    assert kv(shorted=0.02) < 0.65 * healthy
    assert kv(shorted=0.05) < 0.42 * healthy  # while the winding reads only 5 % low


@given(current=st.floats(0.5, 6.0))
def test_the_voltage_holds_no_more_energy_than_was_stored_and_pushed(current: float) -> None:
    emf, before = 10.0, 5.0
    capacitance = 50e-12 + 22e-9 / 75.0**2
    volts = 1e3 * kv(current, emf, before, clamp_v=1e6)
    stored = 1e-3 * float(stored_mj(np.array([1.74e-3]), np.array([current]))[0])
    pushed = capacitance * volts * 75.0 * emf + 0.5 * capacitance * (75.0 * emf) ** 2
    assert 0.5 * capacitance * volts**2 <= stored + pushed


def test_the_clamp_of_the_switch_lets_half_of_the_rest_through() -> None:
    free, held = kv(current=8.0, clamp_v=1e6), kv(current=8.0)
    assert held == pytest.approx(26.25 + 0.5 * (free - 26.25))


def test_timing_follows_key_trigger_and_break() -> None:
    zero = np.zeros(1)
    base = spark_btdc(24.0, np.array([-9.2]), np.array([-9.2]), zero, zero)
    assert base == 24.0
    assert spark_btdc(24.0, np.array([-9.2]), np.array([-9.2]), zero, np.array([12.0])) == 36.0
    assert spark_btdc(24.0, np.array([-9.2]), np.array([-9.2]), np.array([18.0]), zero) == 6.0
    assert spark_btdc(24.0, np.array([-8.2]), np.array([-9.2]), zero, zero) == 23.0


@given(offset=st.floats(-180.0, 180.0))
def test_a_key_step_shows_the_same_for_early_and_late(offset: float) -> None:
    early, late = key_step_mm(np.array([offset, -offset]), 9.0)
    assert early == late
    assert early == pytest.approx(9.0 * np.pi * abs(offset) / 180.0)


def test_weak_or_rusty_magnets_draw_the_screwdriver_from_nearer() -> None:
    strong, weak, rusty = magnet_pull_mm(np.array([1.0, 0.5, 1.0]), np.array([0.0, 0.0, 1.0]))
    assert weak < strong
    assert rusty == strong - 1.0


def test_more_capacitance_gives_a_lower_voltage_from_the_same_current() -> None:
    assert kv(secondary_f=90e-12) < kv() < kv(secondary_f=35e-12)
