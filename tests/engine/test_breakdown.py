"""What a gap asks for."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine.breakdown import (
    air_density_ratio,
    air_pressure_kpa,
    asked_kv,
    rounded_tips_kv,
    uniform_field_kv,
)

GAPS = st.floats(0.05, 10.0)
DENSITIES = st.floats(0.3, 10.0)


def _one(value: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([value])


@given(gap=GAPS, more=st.floats(0.01, 5.0), density=DENSITIES)
def test_a_wider_gap_asks_for_more_kilovolts(gap: float, more: float, density: float) -> None:
    assert asked_kv(_one(gap + more), _one(density), _one(0.9)) >= asked_kv(_one(gap), _one(density), _one(0.9))
    assert uniform_field_kv(_one(gap + more), _one(density)) > uniform_field_kv(_one(gap), _one(density))


@given(gap=GAPS, density=DENSITIES, factor=st.floats(0.3, 3.0))
def test_voltage_depends_on_density_times_gap_only(gap: float, density: float, factor: float) -> None:
    np.testing.assert_allclose(
        uniform_field_kv(_one(gap * factor), _one(density / factor)),
        uniform_field_kv(_one(gap), _one(density)),
        rtol=1e-12,
    )


@given(gap=GAPS, density=DENSITIES, shape=st.floats(0.36, 1.0))
def test_sharp_edges_never_ask_for_more_than_flat_ones(gap: float, density: float, shape: float) -> None:
    assert asked_kv(_one(gap), _one(density), _one(shape)) <= asked_kv(_one(gap), _one(density), _one(1.0))


@given(height=st.floats(0.0, 4000.0), more=st.floats(1.0, 1000.0))
def test_the_air_thins_and_asks_for_less_with_height(height: float, more: float) -> None:
    low, high = air_pressure_kpa(height), air_pressure_kpa(height + more)
    assert high < low
    cold = _one(293.15)
    assert asked_kv(_one(4.2), air_density_ratio(_one(high), cold), _one(0.75)) < asked_kv(
        _one(4.2), air_density_ratio(_one(low), cold), _one(0.75)
    )


def test_a_hot_charge_asks_for_less_than_a_cold_one_of_the_same_pressure() -> None:
    dense, thin = air_density_ratio(np.array([500.0, 500.0]), np.array([300.0, 600.0]))
    assert dense == 2.0 * thin


def test_no_gap_asks_for_less_than_the_paschen_minimum() -> None:
    np.testing.assert_allclose(asked_kv(_one(1e-4), _one(1.0), _one(0.9)), 0.327)


def test_round_tips_far_apart_ask_for_less_than_flat_electrodes() -> None:
    gap, air = np.array([4.2, 8.0, 12.0]), np.ones(3)
    assert (rounded_tips_kv(gap, air, np.full(3, 1.0)) < uniform_field_kv(gap, air)).all()
