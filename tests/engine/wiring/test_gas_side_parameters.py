"""Every parameter of the gas side is noticed by some observable in some arrangement, or is seen on the part itself."""

from __future__ import annotations

import importlib
from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, GAUGE, PULLED, TESTER, TWO_STROKE

SYSTEMS = ("compression", "valves", "crankcase", "combustion", "cooling", "lubrication", "exhaust")
MODULES = [
    importlib.import_module(f"firstpull.engine.vocabulary.{name}") for name in (*SYSTEMS, "leakdown", "kickback")
]
MINE = [entry.id for module in MODULES for entry in module.PARAMETERS]
SHOWN = [entry.id for module in MODULES for entry in module.OBSERVABLES]
ONLY_SEEN = {"oil_metal", "oil_darkness"}
CLASSES: tuple[dict[str, float | str], ...] = ({}, TWO_STROKE | {"compression_release": "hand-valve"})
PLACES: tuple[Arrangement, ...] = (
    GAUGE, PULLED, TESTER, AS_BROUGHT, AT_WORK, replace(GAUGE, thermal="hot"), replace(AT_WORK, thermal="cold"),
)  # fmt: skip


def _moves(name: str) -> bool:
    entry = PARAMETERS[name]
    middle = float(entry.healthy.quantile(np.full(1, 0.5))[0])
    ends = {name: np.array([middle, entry.low, entry.high])}
    for sizes in CLASSES:
        for place in PLACES:
            for values in predict(ends, sizes, Conditions(), place, Setup(), SHOWN).values():
                seen = np.nan_to_num(values, nan=-1.0)
                if np.ptp(seen) > 0.05 * max(abs(float(seen[0])), 0.1):
                    return True
    return False


@pytest.mark.parametrize("name", [name for name in MINE if name not in ONLY_SEEN])
def test_the_parameter_is_noticed(name: str) -> None:
    assert _moves(name)


def test_what_is_only_seen_moves_nothing() -> None:
    assert set(MINE) >= ONLY_SEEN
    assert not any(_moves(name) for name in ONLY_SEEN)
