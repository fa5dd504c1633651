"""Any machine that the vocabulary allows, in any arrangement, gives numbers that can be."""

from __future__ import annotations

import importlib

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import DRIVES, THERMALS, Arrangement, Conditions, Drive, Setup, Thermal
from tests.engine.cylinders import TWO_STROKE

SYSTEMS = (
    "compression", "leakdown", "valves", "crankcase", "combustion", "kickback", "cooling", "lubrication", "exhaust",
)  # fmt: skip
ENTRIES = [
    entry
    for system in SYSTEMS
    for entry in importlib.import_module(f"firstpull.engine.vocabulary.{system}").OBSERVABLES
]
CHANCES = {entry.id for entry in ENTRIES if entry.meaning.startswith("chance")}
COUNT = 200
STATES: tuple[tuple[set[str], set[str]], ...] = (
    (set(), {"control-held"}),
    ({"plug", "plug-lead"}, {"oil-in-cylinder"}),
    ({"muffler"}, set()),
)


def anything(seed: int) -> dict[str, NDArray[np.float64]]:
    """Parameters anywhere between their bounds, one in four at a bound."""
    rng = np.random.default_rng(seed)
    drawn = {}
    for name, entry in PARAMETERS.items():
        values = entry.healthy.quantile(rng.uniform(1e-6, 1.0 - 1e-6, COUNT))
        wild = rng.uniform(entry.low, entry.high, COUNT)
        edge = np.where(rng.random(COUNT) < 0.5, entry.low, entry.high)
        kind = rng.random(COUNT)
        drawn[name] = np.where(kind < 0.25, edge, np.where(kind < 0.5, wild, values))
    return drawn


@pytest.mark.parametrize("drive", DRIVES)
@pytest.mark.parametrize("thermal", THERMALS)
@pytest.mark.parametrize("kind", ["four-stroke", "two-stroke"])
def test_nothing_breaks_and_chances_stay_chances(drive: Drive, thermal: Thermal, kind: str) -> None:
    sizes = TWO_STROKE if kind == "two-stroke" else {}
    for number, (off, added) in enumerate(STATES):
        arrangement = Arrangement(frozenset(off), frozenset(added), drive, thermal, load="full")
        seed = DRIVES.index(drive) * 7 + number
        found = predict(anything(seed), sizes, Conditions(2500.0, -10.0), arrangement, Setup(), [e.id for e in ENTRIES])
        for entry in ENTRIES:
            values = found[entry.id]
            if not (entry.running or entry.turning):
                assert np.isfinite(values).all(), entry.id
            seen = values[~np.isnan(values)]
            assert np.isfinite(seen).all(), entry.id
            if entry.id in CHANCES:
                assert ((seen >= -1e-9) & (seen <= 1.0 + 1e-9)).all(), entry.id
