"""What the bench relies on holds in worlds where every guess of fuel, speed, load and electrics is off."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

Look = Callable[..., NDArray[np.float64]]
SYSTEMS = (
    "fuel", "carburettor", "mixture", "air_intake", "governing", "driven_load", "blade_stop", "generator", "pump",
    "starter_electrics", "charging",
)  # fmt: skip
GUESSES = [
    name
    for system in SYSTEMS
    for name, constant in importlib.import_module(f"firstpull.engine.constants.{system}").CONSTANTS.items()
    if constant.is_judgement
]
SHOWN = [o.id for s in SYSTEMS for o in importlib.import_module(f"firstpull.engine.vocabulary.{s}").OBSERVABLES]


@pytest.fixture(params=range(5))
def world(request: pytest.FixtureRequest) -> Iterator[int]:
    draw = np.random.default_rng(request.param)
    with constants.shifted({name: float(np.exp(draw.uniform(-0.15, 0.15))) for name in GUESSES}):
        yield request.param


def test_choke_cures_a_lean_hunt_and_not_a_play_hunt(world: int, shown: Look, running: Arrangement) -> None:
    part = replace(running, choke="part")
    lean = {"idle_jet_open": 0.5}
    assert shown("hunting_swing_rpm", running, **lean)[0] > 30.0
    assert shown("hunting_swing_rpm", part, idle_jet_open=0.56)[0] < shown("hunting_swing_rpm", running, **lean)[0]
    play = {"governor_link_play": 0.4}
    still = shown("hunting_swing_rpm", part, **play)[0]
    assert still > 0.7 * shown("hunting_swing_rpm", running, **play)[0]


def test_the_cap_tells_the_vent_from_the_filter(world: int, shown: Look, running: Arrangement) -> None:
    full = replace(running, load="full")
    loose = replace(full, off=frozenset({"fuel-cap"}))
    assert shown("dies_after_s", full, cap_vent_mm2=0.0003)[0] < 1200.0
    assert shown("dies_after_s", loose, cap_vent_mm2=0.0003)[0] > 3000.0
    assert shown("dies_after_s", loose, fuel_filter_open=0.01)[0] < 1200.0


def test_wet_and_dry_plug_and_priming_point_the_same_way(world: int, shown: Look, pulled: Arrangement) -> None:
    assert shown("plug_wetness", pulled, needle_stuck_shut=1.0)[0] < 0.1
    assert shown("plug_wetness", pulled, flooded_ml=10.0)[0] > 0.9
    assert shown("fires_on_prime", pulled, needle_stuck_shut=1.0)[0] > 0.5
    assert shown("fuel_arrives", pulled, needle_stuck_shut=1.0)[0] < 0.05


def test_a_worn_brake_stops_later_and_a_lost_link_overspeeds(world: int, shown: Look, running: Arrangement) -> None:
    sound, worn = shown("stop_time_s", running, brake_pad_wear=[0.2, 1.0])
    assert worn > 1.5 * sound
    assert shown("overspeed", running, governor_link_off=1.0)[0] > 0.8


@pytest.mark.parametrize("kind", ["float", "diaphragm"])
def test_nothing_becomes_infinite_or_leaves_its_range(world: int, kind: str, running: Arrangement) -> None:
    draw = np.random.default_rng(100 + world)
    params = {}
    for name, entry in PARAMETERS.items():
        healthy = entry.healthy.quantile(draw.uniform(0.001, 0.999, 120))
        wild = draw.uniform(max(entry.low, -1e6), min(entry.high, 1e6), 120)
        params[name] = np.where(draw.uniform(size=120) < 0.1, wild, healthy)
    sizes: dict[str, float | str] = {"carburettor": kind, "generator_kind": "brush", "electric_start": "yes"}
    found = predict(params, sizes, Conditions(), running, Setup(), SHOWN)
    for name, values in found.items():
        assert not np.any(np.isinf(values)), name
        if OBSERVABLES[name].meaning.startswith("chance"):
            assert np.nanmin(values, initial=0.0) >= 0.0, name
            assert np.nanmax(values, initial=0.0) <= 1.0, name
