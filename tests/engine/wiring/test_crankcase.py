"""Crankcase: holding, breathing, pumping."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, TWO_STROKE, population, shown

PLATES = Arrangement(off=frozenset({"plug-lead", "muffler", "carburettor"}), added=frozenset({"ports-blocked"}))


def test_most_sound_two_strokes_hold_both_ways() -> None:
    names = ["crankcase_pressure_hold_kpa", "crankcase_vacuum_hold_kpa"]
    found = predict(population(800), TWO_STROKE, Conditions(), PLATES, Setup(), names)
    assert np.percentile(found[names[0]], 20) > 0.7 * 48.0
    assert np.percentile(found[names[1]], 20) > 0.7 * 40.0


@pytest.mark.parametrize("parameter", [
    "seal_flywheel_leak_mm2", "seal_pto_leak_mm2", "case_gasket_leak_mm2", "boot_leak_mm2",
    "carburettor_joint_leak_mm2",
])  # fmt: skip
def test_every_way_in_loses_the_pressure(parameter: str) -> None:
    held = shown("crankcase_pressure_hold_kpa", PLATES, {parameter: [0.0, 3.0]}, TWO_STROKE)
    assert held[0] > 35.0 > 5.0 > held[1]


def test_a_lip_that_lifts_shows_only_under_vacuum() -> None:
    lip = {"seal_vacuum_leak_mm2": [0.0, 0.3]}
    pressure = shown("crankcase_pressure_hold_kpa", PLATES, lip, TWO_STROKE)
    vacuum = shown("crankcase_vacuum_hold_kpa", PLATES, lip, TWO_STROKE)
    assert pressure[0] == pressure[1]
    assert vacuum[0] > 25.0 > 2.0 > vacuum[1]


def test_bubbles_tell_the_seal() -> None:
    leak = {"seal_pto_leak_mm2": 0.5}
    at_pto = shown("bubbles_pto_seal", PLATES, leak, TWO_STROKE)[0]
    assert at_pto > 100.0 * shown("bubbles_flywheel_seal", PLATES, leak, TWO_STROKE)[0]
    assert at_pto > 100.0 * shown("bubbles_case_gasket", PLATES, leak, TWO_STROKE)[0]


def test_a_broken_reed_spits_back_and_pumps_less() -> None:
    reed = {"reed_leak_mm2": [0.4, 30.0]}
    spit = shown("reed_spit_back", AS_BROUGHT, reed, TWO_STROKE)
    pumped = shown("scavenge_share", Arrangement(drive="rope"), reed, TWO_STROKE)
    assert spit[0] < 0.05 < 0.9 < spit[1]
    assert pumped[1] < 0.8 * pumped[0]


def test_seal_leaks_draw_air_only_into_two_strokes() -> None:
    leak = {"seal_pto_leak_mm2": 2.0}
    assert shown("crankcase_air_leak_mm2", AS_BROUGHT, leak, TWO_STROKE)[0] > 1.9
    assert shown("crankcase_air_leak_mm2", AS_BROUGHT, leak)[0] == 0.0


@pytest.mark.parametrize(("parameter", "value"), [
    ("ring_leak_mm2", 2.0), ("head_gasket_gallery_leak_mm2", 2.0), ("breather_blocked", 0.9), ("breather_open", 1.0),
])  # fmt: skip
def test_a_four_stroke_loses_its_crankcase_vacuum(parameter: str, value: float) -> None:
    assert shown("crankcase_vacuum_kpa", AT_WORK)[0] > 1.0
    assert shown("crankcase_vacuum_kpa", AT_WORK, {parameter: value})[0] < 0.3


@pytest.mark.parametrize(("parameter", "value"), [
    ("breather_open", 1.0), ("breather_blocked", 0.9), ("oil_level_mm", 25.0), ("muffler_oil_cm3", 30.0),
])  # fmt: skip
def test_oil_gets_into_the_air_cleaner(parameter: str, value: float) -> None:
    assert shown("oil_in_air_cleaner", AS_BROUGHT)[0] < 0.1
    assert shown("oil_in_air_cleaner", AS_BROUGHT, {parameter: value})[0] > 0.4


def test_blow_by_grows_with_ring_wear() -> None:
    blown = shown("blow_by_l_min", AT_WORK, {"ring_leak_mm2": [0.1, 1.0]})
    assert blown[1] > 8.0 * blown[0]
