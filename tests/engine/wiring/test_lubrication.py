"""Oil, smoke and noises of a machine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, TWO_STROKE, population, shown

SIGNS = ["blue_smoke", "white_smoke", "smoke_puff_at_start", "rod_knock", "squeal", "rattle"]


def test_healthy_machines_show_none_of_it() -> None:
    found = predict(population(600), {}, Conditions(), AT_WORK, Setup(), SIGNS)
    for name in SIGNS:
        assert np.nanpercentile(found[name], 95) < 0.15, name


@pytest.mark.parametrize(("sign", "parameter", "value"), [
    ("blue_smoke", "ring_leak_mm2", 2.0), ("blue_smoke", "head_gasket_gallery_leak_mm2", 1.5),
    ("blue_smoke", "oil_level_mm", 20.0), ("blue_smoke", "breather_blocked", 0.9),
    ("blue_smoke", "guide_wear_mm", 0.35),
    ("white_smoke", "oil_water_share", 0.15), ("smoke_puff_at_start", "guide_wear_mm", 0.25),
    ("rod_knock", "rod_play_mm", 0.6), ("rod_knock", "main_bearing_play_mm", 0.6), ("squeal", "oil_level_mm", -40.0),
    ("squeal", "seizure", 0.4), ("rattle", "foreign_object_damage", 0.9), ("rattle", "rod_play_mm", 1.5),
])  # fmt: skip
def test_each_fault_gives_its_sign(sign: str, parameter: str, value: float) -> None:
    assert shown(sign, AT_WORK, {parameter: value})[0] > 0.6


def test_smoke_after_tipping_is_white_and_clears() -> None:
    tipped = {"muffler_oil_cm3": 8.0}
    assert shown("white_smoke", replace(AT_WORK, thermal="cold"), tipped)[0] > 0.9
    assert shown("white_smoke", AT_WORK, tipped)[0] < 0.1
    assert 3.0 < shown("smoke_clears_min", AT_WORK, tipped)[0] < 15.0


def test_fuel_in_the_oil_thins_its_film() -> None:
    film = shown("oil_film_share", AS_BROUGHT, {"oil_fuel_share": [0.0, 0.3]})
    assert film[1] < 0.75 * film[0]


def test_the_dipstick_reads_the_level_and_nothing_when_drained() -> None:
    assert shown("oil_level_reading_mm", AS_BROUGHT, {"oil_level_mm": [-12.0, 15.0]}).tolist() == [-12.0, 15.0]
    assert shown("oil_level_reading_mm", Arrangement(off=frozenset({"oil"})))[0] <= -50.0


def test_a_two_stroke_lives_by_the_oil_in_its_fuel() -> None:
    film = shown("oil_film_share", AS_BROUGHT, {"oil_in_fuel_share": [0.0, 0.02]}, TWO_STROKE)
    assert film[0] < 0.1 < 0.9 < film[1]
    plug = shown("oil_on_plug", AS_BROUGHT, {"oil_in_fuel_share": [0.02, 0.1]}, TWO_STROKE)
    assert plug[1] > plug[0] + 0.2


def test_oil_in_the_cylinder_and_worn_rings_oil_the_plug() -> None:
    for cause in ({"cylinder_oil_cm3": 6.0}, {"ring_leak_mm2": 3.0}):
        assert shown("oil_on_plug", AS_BROUGHT, cause)[0] > 0.5 > 0.15 > shown("oil_on_plug", AS_BROUGHT)[0]
