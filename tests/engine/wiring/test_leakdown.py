"""Leak-down and the places where it hisses."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Conditions, Setup
from firstpull.engine.wiring.leakdown import PLACES
from tests.engine.cylinders import GAUGE, TESTER, TWO_STROKE, population, shown

LOUD = {
    "carburettor": ("intake_valve_leak_mm2", 0.8), "muffler": ("exhaust_valve_leak_mm2", 1.5),
    "filler": ("ring_leak_mm2", 1.2), "head_edge": ("head_gasket_edge_leak_mm2", 2.5),
    "pushrod": ("head_gasket_gallery_leak_mm2", 1.5),
}  # fmt: skip


@pytest.mark.parametrize("place", LOUD)
def test_the_hiss_is_loudest_where_it_leaks(place: str) -> None:
    parameter, value = LOUD[place]
    for other in PLACES:
        excess = shown(f"hiss_{other}_excess", TESTER, {parameter: value})[0]
        assert (excess > 3.0) == (other == place)
    assert shown("leakdown_percent", TESTER, {parameter: value})[0] > 60.0


def test_healthy_engines_hiss_a_little_at_the_filler_and_pass() -> None:
    names = ["leakdown_percent", "hiss_filler"]
    found = predict(population(1000), {}, Conditions(), TESTER, Setup(), names)
    assert np.percentile(found["leakdown_percent"], 90) < 20.0
    assert np.median(found["hiss_filler"]) > 3.0


def test_tight_exhaust_lash_reads_like_a_burnt_exhaust_valve() -> None:
    tight = shown("leakdown_percent", TESTER, {"exhaust_lash_mm": -0.03})[0]
    assert tight > 85.0
    assert shown("hiss_muffler_excess", TESTER, {"exhaust_lash_mm": -0.03})[0] > 10.0


def test_a_stuck_release_shows_on_the_gauge_and_not_on_the_tester() -> None:
    stuck = {"release_stuck_on": [0.0, 1.0]}
    healthy, faulty = shown("leakdown_percent", TESTER, stuck)
    assert faulty == healthy
    assert shown("compression_kpa", GAUGE, stuck)[1] < 0.4 * shown("compression_kpa", GAUGE, stuck)[0]


def test_the_reading_belongs_to_the_tester() -> None:
    small = shown("leakdown_percent", TESTER, {"ring_leak_mm2": 0.3}, setup={"leak_reference_mm2": 0.2})[0]
    large = shown("leakdown_percent", TESTER, {"ring_leak_mm2": 0.3}, setup={"leak_reference_mm2": 0.8})[0]
    assert small > 2.0 * large


def test_a_decompression_valve_hisses_at_itself() -> None:
    saw = TWO_STROKE | {"compression_release": "hand-valve"}
    assert shown("hiss_decompression_excess", TESTER, {"decompression_valve_leak_mm2": 1.5}, saw)[0] > 3.0


def test_all_places_together_are_the_whole_flow() -> None:
    params = {"ring_leak_mm2": 0.5, "exhaust_valve_leak_mm2": 0.3}
    parts = sum(shown(f"hiss_{place}", TESTER, params)[0] for place in PLACES)
    assert parts == pytest.approx(shown("leakdown_flow", TESTER, params)[0])


def test_the_air_swings_the_crank() -> None:
    assert 2.0 < shown("leakdown_swing_nm", TESTER)[0] < 20.0
