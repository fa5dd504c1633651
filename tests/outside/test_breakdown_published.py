"""Breakdown voltages against published figures, each with its source beside it."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.breakdown import (
    air_density_ratio,
    air_pressure_kpa,
    asked_kv,
    rounded_tips_kv,
    uniform_field_kv,
)

FloatArray = NDArray[np.float64]


def _one(value: float) -> FloatArray:
    return np.array([value])


@pytest.mark.parametrize(("gap_mm", "kv"), [(5.0, 17.4), (10.0, 32.0), (15.0, 45.1)])
def test_spheres_of_five_centimetres_spark_where_the_standard_table_says(gap_mm: float, kv: float) -> None:
    # Table of the kind of IEC 60052:2002, 5 cm spheres, one earthed, 20 C, 101.3 kPa (table read second-hand, +-3 %).
    peek = rounded_tips_kv(_one(gap_mm), _one(1.0), _one(25.0))[0]
    assert peek == pytest.approx(kv, rel=0.07)
    if gap_mm <= 10.0:  # the field is still nearly uniform
        assert uniform_field_kv(_one(gap_mm), _one(1.0))[0] == pytest.approx(kv, rel=0.07)


@pytest.mark.parametrize(("gap_mm", "kv"), [(6.4, 20.0), (8.1, 25.0), (9.8, 30.0)])
def test_large_spheres_close_together_are_a_uniform_field(gap_mm: float, kv: float) -> None:
    # AIEE sphere-gap table, 25 cm spheres (second-hand copy).
    assert uniform_field_kv(_one(gap_mm), _one(1.0))[0] == pytest.approx(kv, rel=0.03)


def test_a_small_gap_agrees_with_peek_within_a_sixth() -> None:
    # Peek (1915), 1.0 mm between small spheres, 4.95 kV crest (quoted second-hand); the uniform law reads low here.
    assert uniform_field_kv(_one(1.0), _one(1.0))[0] == pytest.approx(4.95, rel=0.16)


@pytest.mark.parametrize(("kv", "gap_mm"), [(5.0, 4.2), (10.0, 8.5), (15.0, 13.0), (20.0, 17.5)])
def test_needle_points_are_the_lower_bound_of_any_tester_tip(kv: float, gap_mm: float) -> None:
    # AIEE needle-gap table (second-hand copy).
    assert kv < asked_kv(_one(gap_mm), _one(1.0), _one(0.5))[0] * 1.06
    assert kv < uniform_field_kv(_one(gap_mm), _one(1.0))[0]


@pytest.mark.parametrize("gap_mm", [0.5, 1.0, 2.0, 5.0])
def test_the_law_lies_near_paschen_with_townsend_constants_of_air(gap_mm: float) -> None:
    # Townsend constants of air: A = 15 / (cm torr), B = 365 V / (cm torr), gamma = 0.01 (common textbook set).
    product = 760.0 * gap_mm * 0.1
    paschen = 1e-3 * 365.0 * product / (np.log(15.0 * product) - np.log(np.log(1.0 + 1.0 / 0.01)))
    # The textbook set is fitted at low pressure and overshoots towards several millimetres at one atmosphere.
    assert uniform_field_kv(_one(gap_mm), _one(1.0))[0] == pytest.approx(paschen, rel=0.25)


def test_nothing_sparks_below_the_paschen_minimum_of_air() -> None:
    # Tabulated minimum of air about 327 V (second-hand); 305 V from the textbook constants above.
    assert 0.30 <= asked_kv(_one(1e-6), _one(1.0), _one(1.0))[0] <= 0.34


def test_air_at_freezing_asks_a_few_per_cent_more_than_at_25_degrees() -> None:
    # AIEE correction table: 0 C against 25 C at 760 mm is 1.09 (second-hand copy). Our law follows density.
    cold, warm = air_density_ratio(np.full(2, 101.325), np.array([273.15, 298.15]))
    ratio = uniform_field_kv(_one(20.0), _one(float(cold))) / uniform_field_kv(_one(20.0), _one(float(warm)))
    assert ratio[0] == pytest.approx(1.09, abs=0.02)


def test_a_plug_asks_two_to_three_kilovolts_in_free_air_and_about_eight_in_a_cylinder() -> None:
    # Plug of 0.6 mm: 2-3 kV at 1 bar, about 8 kV in an 8:1 cylinder (abstract of a handbook chapter on ignition).
    free = asked_kv(_one(0.6), _one(1.0), _one(0.9))[0]
    inside = asked_kv(_one(0.6), air_density_ratio(_one(650.0), _one(520.0)), _one(1.0))[0]
    assert 2.0 <= free <= 3.0
    assert inside == pytest.approx(8.0, rel=0.15)


def test_one_kilovolt_does_not_jump_a_plug_gap_in_open_air() -> None:
    # A service-manual saying (1 kV jumps 0.025 in in open air) that no law supports: kept as what must not be adopted.
    assert asked_kv(_one(0.635), _one(1.0), _one(0.8))[0] > 2.3
    # The other half of that saying holds: 10 kV at 120 psi (9.3 bar absolute, a charge of about 600 K).
    inside = asked_kv(_one(0.635), air_density_ratio(_one(930.0), _one(600.0)), _one(1.0))[0]
    assert inside == pytest.approx(10.0, rel=0.06)


@pytest.mark.parametrize(("height_m", "kpa"), [(0.0, 101.325), (1000.0, 89.875), (2000.0, 79.495), (3000.0, 70.109)])
def test_pressure_falls_with_height_as_in_the_standard_atmosphere(height_m: float, kpa: float) -> None:
    # ISO 2533:1975 table, geopotential altitude (values from memory).
    assert air_pressure_kpa(height_m) == pytest.approx(kpa, rel=2e-4)
