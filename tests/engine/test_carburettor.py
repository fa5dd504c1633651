"""Carburettor and choke: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import carburettor, constants

NONE = np.zeros(1)


def test_a_sound_nozzle_at_the_right_level_changes_nothing() -> None:
    assert carburettor.suction_ratio(2000.0, NONE, NONE)[0] == pytest.approx(1.0)
    assert carburettor.choke_ratio(NONE)[0] == pytest.approx(1.0)
    assert carburettor.leak_ratio(NONE, 18.0, "idle_leak_share")[0] == 1.0
    assert carburettor.metering_ratio(np.ones(1), NONE, NONE)[0] == pytest.approx(1.0)


@given(st.floats(-10.0, 7.0), st.floats(0.1, 1.0))
def test_a_higher_fuel_level_is_richer(level: float, more: float) -> None:
    at = carburettor.suction_ratio(1000.0, np.zeros(2), np.array([level, level + more]))
    assert at[1] > at[0]


def test_four_times_the_effective_suction_doubles_the_flow() -> None:
    lift = constants.value("fuel_density_kg_m3") * 9.80665 * constants.value("lift_mm") * 1e-3
    extra = np.array([3.0 * (2000.0 - lift)])
    assert carburettor.suction_ratio(2000.0, extra, NONE)[0] == pytest.approx(2.0)


@given(st.floats(0.0, 0.98), st.floats(0.0, 0.02))
def test_closing_the_choke_never_leans(closed: float, more: float) -> None:
    ratio = carburettor.choke_ratio(np.array([closed, closed + more]))
    assert 1.0 <= ratio[0] <= ratio[1]


@given(st.floats(0.0, 30.0), st.floats(0.01, 5.0))
def test_a_leak_leans_idle_more_than_load(leak: float, more: float) -> None:
    sizes = np.array([leak, leak + more])
    idle = carburettor.leak_ratio(sizes, 18.0, "idle_leak_share")
    load = carburettor.leak_ratio(sizes, 18.0, "main_leak_share")
    assert idle[1] < idle[0]
    assert idle[1] < load[1]


def test_a_big_throat_minds_a_leak_less() -> None:
    small, big = (carburettor.leak_ratio(np.array([3.0]), bore, "idle_leak_share")[0] for bore in (12.0, 24.0))
    assert big > small


def test_full_varnish_closes_a_jet() -> None:
    assert carburettor.jet_free(np.ones(1), np.ones(1), NONE)[0] == 0.0


def test_a_stiff_diaphragm_and_a_low_lever_lean_and_a_high_lever_enriches() -> None:
    stiff, low, high = carburettor.metering_ratio(np.array([3.0, 1.0, 1.0]), np.array([0.0, -0.5, 0.5]), np.zeros(3))
    assert stiff < 0.8
    assert low < 1.0 < high


def test_a_tight_needle_holds_and_an_open_one_does_not() -> None:
    tight, half, gone = carburettor.needle_hold_share(np.array([0.0, constants.value("needle_half_leak"), 1.0]))
    assert tight == 1.0
    assert half == pytest.approx(0.5)
    assert gone < 1e-5


def test_ice_is_a_matter_of_cold_damp_days() -> None:
    prone = np.ones(1)
    assert carburettor.ice_dies_after_s(prone, 3.0)[0] < 900.0
    assert carburettor.ice_dies_after_s(prone, 25.0)[0] == 3600.0
    assert carburettor.ice_dies_after_s(np.zeros(1), 3.0)[0] == 3600.0


def test_thin_air_makes_a_fixed_jet_rich() -> None:
    assert carburettor.altitude_ratio(1.225) == pytest.approx(1.0)
    assert carburettor.altitude_ratio(0.9) > 1.1
