"""Every parameter of fuel, mixture, speed, load and electrics can be noticed by some check on some class."""

from __future__ import annotations

import importlib
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]
SYSTEMS = (
    "fuel", "carburettor", "mixture", "air_intake", "governing", "driven_load", "blade_stop", "generator", "pump",
    "starter_electrics", "charging",
)  # fmt: skip
FILES = [importlib.import_module(f"firstpull.engine.vocabulary.{system}") for system in SYSTEMS]
MINE = [entry.id for file in FILES for entry in file.PARAMETERS]
SHOWN = [entry.id for file in FILES for entry in file.OBSERVABLES]
# Seen by eye on the part itself, or (oil in the fuel) felt on the gas side only.
ONLY_SEEN = {"limiter_cut", "carburettor_wrong", "shear_pin_wrong", "oil_in_fuel_share"}
TWO_STROKE: dict[str, float | str] = {
    "carburettor": "diaphragm", "fuel_feed": "pulse", "cycle": "two-stroke", "valve_gear": "ports", "clutch": "yes",
    "governor_kind": "none", "driven_load": "cutter", "brake": "no", "operator_presence": "no", "intake_boot": "yes",
    "mixture_screws": "yes", "displacement_cm3": 27.0, "usual_top_rpm": 9500.0, "bowl_ml": 3.0,
}  # fmt: skip
CLASSES: tuple[dict[str, float | str], ...] = (
    {},
    {"governor_kind": "vane", "mixture_screws": "yes", "bowl_solenoid": "yes"},
    TWO_STROKE,
    {"driven_load": "generator", "generator_kind": "brush", "brake": "no", "operator_presence": "no"},
    {"driven_load": "generator", "generator_kind": "capacitor", "brake": "no", "operator_presence": "no"},
    {"driven_load": "generator", "generator_kind": "inverter", "brake": "no", "operator_presence": "no"},
    {"electric_start": "yes", "charging": "regulated", "blade_clutch": "yes"},
    {"driven_load": "washer", "brake": "no", "operator_presence": "no", "pump_displacement_cm3": 8.0},
    {"driven_load": "tines", "belt": "yes", "brake": "no", "operator_presence": "no"},
)
HELD = Arrangement(added=frozenset({"control-held"}))
LOOKS = (
    (replace(HELD, drive="running", thermal="hot"), Setup(), Conditions()),
    (replace(HELD, drive="running", load="full"), Setup(), Conditions(air_c=3.0)),
    (replace(HELD, drive="rope", choke="closed"), Setup({"by_user": 1.0}), Conditions()),
    (replace(HELD, drive="starter", choke="closed"), Setup(), Conditions()),
)


@lru_cache(maxsize=1)
def moved() -> dict[str, float]:
    """For each parameter the largest move of any observable, over its size, from one end to the other."""
    middles = {name: PARAMETERS[name].healthy.quantile(np.full(1, 0.5))[0] for name in MINE}
    tries = [(name, end) for name in MINE for end in (PARAMETERS[name].low, PARAMETERS[name].high)]
    table = {
        name: np.array([middles[name]] + [end if n == name else middles[name] for n, end in tries]) for name in MINE
    }
    best = dict.fromkeys(MINE, 0.0)
    for sizes in CLASSES:
        looks = LOOKS if sizes in CLASSES[:3] else (LOOKS[0], LOOKS[3])
        for arrangement, setup, day in looks:
            shown = predict(table, sizes, day, arrangement, setup, [*SHOWN, "after_fire"])
            for values in shown.values():
                usual = values[0]
                for (name, _), value in zip(tries, values[1:], strict=True):
                    if np.isnan(usual) != np.isnan(value):
                        best[name] = max(best[name], 1.0)
                    elif not np.isnan(usual):
                        best[name] = max(best[name], abs(value - usual) / max(abs(usual), 0.05))
    return best


@pytest.mark.parametrize("name", MINE)
def test_a_parameter_at_its_end_moves_something(name: str) -> None:
    if name in ONLY_SEEN:
        assert moved()[name] < 1e-9, f"{name} does move something: take it off the list"
    else:
        assert moved()[name] > 0.05


@pytest.mark.parametrize("which", SHOWN)
def test_a_healthy_machine_of_every_class_shows_a_finite_value(which: str) -> None:
    for sizes in CLASSES:
        values = [predict({}, sizes, day, arrangement, setup, [which])[which] for arrangement, setup, day in LOOKS]
        assert not np.any(np.isinf(np.concatenate(values)))
        if which != "hunting_hz":  # nothing to time where it does not hunt
            assert not np.all(np.isnan(np.concatenate(values)))
