"""Wires the leak-down tester and the places where it hisses."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, leakdown
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]
PLACES = ("carburettor", "muffler", "filler", "head_edge", "pushrod", "decompression")


def _ambient(m: Machine) -> FloatArray:
    return np.full(m.count, places.ambient_pa(m))


def _supply(m: Machine) -> FloatArray:
    return _ambient(m) + m.setup.get("leak_supply_kpa", 550.0) * 1e3


@rule("leak_areas_mm2")
def _areas(m: Machine) -> FloatArray:
    """Leak area at rest on top dead centre by place, in the order of PLACES, shape (6, N)."""
    found = places.by_place(m, m.added("oil-in-cylinder"), cranking=False)
    return np.stack([found[place] for place in PLACES])


@rule("leakdown_pressure_pa")
def _pressure(m: Machine) -> FloatArray:
    over = m.quantity("leak_areas_mm2").sum(axis=0) / m.setup.get("leak_reference_mm2", 0.30)
    return leakdown.cylinder_pressure(over, _supply(m), _ambient(m))


@rule("leakdown_percent")
def _percent(m: Machine) -> FloatArray:
    return leakdown.reading_percent(m.quantity("leakdown_pressure_pa"), _supply(m), _ambient(m))


@rule("leak_flows")
def _flows(m: Machine) -> FloatArray:
    """Free air by place, shape (6, N)."""
    areas = constants.value("compression_discharge") * m.quantity("leak_areas_mm2")
    kelvin = np.full(m.count, places.ambient_k(m))
    return leakdown.free_air(areas, m.quantity("leakdown_pressure_pa"), _ambient(m), kelvin)


@rule("leakdown_flow")
def _flow(m: Machine) -> FloatArray:
    return np.asarray(m.quantity("leak_flows").sum(axis=0))


@rule("leakdown_swing_nm")
def _swing(m: Machine) -> FloatArray:
    shape = places.geometry(m)
    return leakdown.crank_torque(m.quantity("leakdown_pressure_pa"), _ambient(m), shape.piston_m2, shape.stroke_m, 10.0)


def _hiss(index: int) -> Callable[[Machine], FloatArray]:
    def flow(m: Machine) -> FloatArray:
        return np.asarray(m.quantity("leak_flows")[index])

    return flow


def _excess(index: int) -> Callable[[Machine], FloatArray]:
    def over(m: Machine) -> FloatArray:
        flows = m.quantity("leak_flows")
        others = np.delete(flows, index, axis=0).max(axis=0)
        return np.asarray(flows[index] - others)

    return over


for _index, _place in enumerate(PLACES):
    rule(f"hiss_{_place}")(_hiss(_index))
    rule(f"hiss_{_place}_excess")(_excess(_index))
