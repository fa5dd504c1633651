"""Ignition of healthy and faulty machines against figures of the trade, each with its source and a wide band."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.magneto import core_flux_and_inductance
from firstpull.engine.vocabulary.types import Arrangement
from tests.engine.healthy_mowers import AT_TESTER, HEALTHY, HELD, LEAD_OFF, PULLED, lit, shown, with_fault

FloatArray = NDArray[np.float64]
STILL = Arrangement(added=HELD)


def test_healthy_coils_give_at_least_ten_kilovolts_at_pulling_speed() -> None:
    # Service manual of a maker of small two-stroke tools: at least 10 kV at pulling speed (address held, not printed).
    assert float((shown("tester_kv", arrangement=AT_TESTER) > 10.0).mean()) > 0.97


def test_healthy_coils_fire_by_350_turns_a_minute() -> None:
    # Repair pages (second-hand): at least 350 r/min for a spark with a good coil; testers are spun at 250-350.
    threshold = shown("threshold_rpm", arrangement=STILL)
    assert float((threshold < 350.0).mean()) > 0.97
    assert float((threshold < 250.0).mean()) > 0.4
    assert float((threshold > 100.0).mean()) > 0.97


def test_primary_windings_read_within_what_service_pages_print() -> None:
    # 0.18-1.5 ohm by design, over several makers (service pages read, not printed).
    ohm = shown("primary_meter_ohm", arrangement=LEAD_OFF)
    assert float(((ohm > 0.18) & (ohm < 1.5)).mean()) > 0.97


def test_secondary_windings_read_within_what_service_pages_print() -> None:
    # 2.5-17 kohm by design, over several makers (service pages read, not printed).
    ohm = shown("secondary_meter_ohm", arrangement=STILL)
    assert float(((ohm > 2500.0) & (ohm < 17000.0)).mean()) > 0.97


def test_plug_resistors_and_insulation_read_as_plug_bulletins_say() -> None:
    # Most resistor plugs 3-7.5 kohm (a plug maker's bulletin); insulation of 10 Mohm or more is good (vehicle service).
    resistor, insulation = shown("plug_ohm", arrangement=STILL), shown("plug_insulation_ohm", arrangement=STILL)
    assert float(((resistor > 3000.0) & (resistor < 7500.0)).mean()) > 0.99
    assert float((insulation > 1e7).mean()) > 0.97


def test_an_ohm_check_of_the_coil_passes_a_coil_with_shorted_turns() -> None:
    # Single designs are specified to 15-20 % (service pages): a few per cent of shorted turns pass.
    faulty = shown("secondary_meter_ohm", with_fault(shorted_share=0.05), STILL)
    np.testing.assert_allclose(faulty / shown("secondary_meter_ohm", arrangement=STILL), 0.95, rtol=1e-9)


def test_fouling_of_half_a_megohm_is_where_concern_begins() -> None:
    # Vehicle service information: 10 Mohm good, about 0.5 Mohm of concern.
    loss = [
        float(np.median(shown("spark_kv", with_fault(plug_fouling_ohm=ohm)) / shown("spark_kv")))
        for ohm in (1e7, 5e5, 1e5)
    ]
    assert loss[0] > 0.93
    assert 0.4 < loss[1] < 0.8
    assert loss[2] < 0.35


def test_a_sheared_key_leaves_the_spark_and_takes_the_start() -> None:
    # Common practice and repair forums: spark present with a sheared key.
    fault = with_fault(key_offset_deg=90.0)
    assert lit(fault) > 0.99
    assert float(shown("start_chance", fault).max()) < 0.01


def test_a_wide_air_gap_does_not_prevent_a_spark_if_spun_fast_enough() -> None:
    # A maker's statement quoted on a repair forum.
    fault = with_fault(air_gap_mm=1.5)
    assert lit(fault, replace(AT_TESTER, drive="drill")) > 0.99


def test_the_spark_returns_with_the_stop_lead_off_when_the_wiring_is_at_fault() -> None:
    # Trade forum, ignition test sequence.
    fault = with_fault(stop_lead_ohm=0.3)
    assert lit(fault) == 0.0
    assert lit(fault, LEAD_OFF) > 0.99


@pytest.mark.parametrize(
    ("gap_mm", "relative"), [(0.15, 1.027), (0.40, 0.964), (0.60, 0.922), (0.80, 0.885), (1.0, 0.852), (1.5, 0.782)]
)
def test_flux_falls_with_the_gap_as_a_field_computation_says(gap_mm: float, relative: float) -> None:
    # Plane finite elements, linear iron, two 18 x 9.5 mm magnets, 12 mm legs: flux over that at 0.25 mm (our own run,
    # not kept; two of these gaps fitted the leakage, the rest are predictions).
    def flux(gap: float) -> float:
        return float(core_flux_and_inductance(np.array([gap]), np.ones(1), np.array([0.38]), 120.0)[0][0])

    assert flux(gap_mm) / flux(0.25) == pytest.approx(relative, rel=0.01)


def test_ferrite_magnets_lose_a_fifth_of_a_per_cent_a_kelvin() -> None:
    # Magnet makers' tables: remanence of ferrite -0.2 %/K, copper +0.39 %/K: a hot coil gives 10-35 % less.
    hot = shown("tester_kv", HEALTHY, replace(LEAD_OFF, thermal="hot"))
    ratio = float(np.median(hot / shown("tester_kv", HEALTHY, LEAD_OFF)))
    assert 0.65 < ratio < 0.9


def test_a_tenth_of_a_millimetre_of_gap_hardly_matters_to_a_start() -> None:
    near, far = with_fault(air_gap_mm=0.25), with_fault(air_gap_mm=0.36)
    np.testing.assert_allclose(shown("tester_kv", near), shown("tester_kv", far), rtol=0.06)
    assert float(np.mean(shown("start_chance", far, PULLED))) > 0.9
