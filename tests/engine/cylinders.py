"""Machines for the tests of compression and its neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import compression
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]
MOWER = compression.Geometry(160e-6, 0.068, 0.044, 0.28)
HELD = frozenset({"control-held"})
GAUGE = Arrangement(off=frozenset({"plug", "plug-lead"}), added=HELD, drive="rope")
PULLED = Arrangement(off=frozenset({"plug-lead"}), added=HELD, drive="rope")
TESTER = Arrangement(off=frozenset({"plug", "plug-lead"}), added=frozenset({"crank-held"}))
AT_WORK = Arrangement(added=HELD, drive="running", thermal="hot", load="half")
AS_BROUGHT = Arrangement()
TWO_STROKE: dict[str, float | str] = {
    "displacement_cm3": 25.4, "bore_mm": 34.0, "stroke_mm": 28.0, "compression_ratio": 8.0, "cycle": "two-stroke",
    "compression_begins_deg": 105.0, "valve_gear": "ports", "compression_release": "none", "oil_capacity_cm3": 0.0,
    "right_oil_share": 0.02, "crankcase_volume_cm3": 60.0, "intake_boot": "yes", "rated_speed_rpm": 8000.0,
    "operator_presence": "no", "brake": "no", "flywheel_inertia_kgm2": 0.001, "blade_inertia_kgm2": 0.0,
}  # fmt: skip


def shown(
    which: str | Sequence[str],
    arrangement: Arrangement,
    params: Mapping[str, float | Sequence[float]] | None = None,
    sizes: Mapping[str, float | str] | None = None,
    conditions: Conditions | None = None,
    setup: dict[str, float] | None = None,
) -> FloatArray:
    """One observable of machines that are healthy but for the given parameters."""
    given = {name: np.atleast_1d(np.asarray(value, dtype=np.float64)) for name, value in (params or {}).items()}
    count = max((value.size for value in given.values()), default=1)
    arrays = {name: np.broadcast_to(value, (count,)).copy() for name, value in given.items()}
    names = [which] if isinstance(which, str) else list(which)
    found = predict(arrays, sizes or {}, conditions or Conditions(), arrangement, Setup(setup or {}), names)
    return found[names[0]]


def population(count: int, seed: int = 1, **fixed: float) -> dict[str, FloatArray]:
    """Healthy machines drawn from the vocabulary, with some parameters fixed."""
    rng = np.random.default_rng(seed)
    drawn = {name: entry.healthy.quantile(rng.uniform(1e-6, 1.0 - 1e-6, count)) for name, entry in PARAMETERS.items()}
    return drawn | {name: np.full(count, value) for name, value in fixed.items()}


def stroke(count: int = 1, **other: float | FloatArray) -> compression.Stroke:
    """One compression stroke of a mower at pulling speed, cold, at sea level, unless told otherwise."""
    values: dict[str, float | FloatArray] = {
        "begin_deg": 130.0, "clearance_m3": 160e-6 / 7.5, "speed_rpm": 450.0, "leak_mm2": 0.1, "release_mm2": 0.0,
        "release_ends_deg": 50.0, "inlet_pa": 101325.0, "inlet_k": 293.15, "wall_k": 293.15, "ambient_pa": 101325.0,
    }  # fmt: skip
    values.update(other)
    arrays = {name: np.broadcast_to(np.asarray(v, dtype=np.float64), (count,)).copy() for name, v in values.items()}
    return compression.Stroke(**arrays)
