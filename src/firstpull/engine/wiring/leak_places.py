"""The leak areas of one cylinder, place by place, in the arrangement at hand; shared by gauge, tester and engine."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import atmosphere, constants, valves
from firstpull.engine.compression import Geometry
from firstpull.engine.machine import Machine

FloatArray = NDArray[np.float64]


def geometry(m: Machine) -> Geometry:
    """Cylinder of the class."""
    return Geometry(
        m.size("displacement_cm3") * 1e-6, m.size("bore_mm") * 1e-3, m.size("stroke_mm") * 1e-3, m.size("crank_to_rod")
    )


def ambient_pa(m: Machine) -> float:
    """Air pressure of the day."""
    return atmosphere.pressure_pa(m.conditions.altitude_m)


def ambient_k(m: Machine) -> float:
    """Air temperature of the day."""
    return m.conditions.air_c + 273.15


def hot(m: Machine) -> bool:
    """Whether the engine is hot."""
    return m.thermal == "hot"


def has_valves(m: Machine) -> float:
    """1 for an engine with valves, 0 for one with ports."""
    return 0.0 if m.trait("valve_gear") == "ports" else 1.0


def lash(m: Machine, which: str) -> FloatArray:
    """Lash of the intake or exhaust valve now, below zero when held open."""
    return valves.lash_now(m.parameter(f"{which}_lash_mm"), m.parameter("hot_lash_shift_mm"), hot(m))


def valve(m: Machine, which: str) -> FloatArray:
    """Leak area of one closed valve: seat, tight lash, hanging, loose seat."""
    hang = m.parameter(f"{which}_hang_mm")
    if hot(m):
        hang = hang + m.parameter(f"{which}_hang_hot_mm")
    opened = valves.open_area(np.maximum(hang, -lash(m, which)), m.size(f"{which}_valve_seat_mm"))
    loose = valves.seat_leak(m.parameter("valve_seat_loose"), hot(m)) * (0.7 if which == "exhaust" else 0.3)
    return has_valves(m) * (m.parameter(f"{which}_valve_leak_mm2") + opened + loose)


def rings(m: Machine, wet: bool, cranking: bool) -> FloatArray:
    """Leak area past piston and rings, with or without a little oil, at rest or cranking."""
    worn = np.maximum(m.parameter("bore_wear_mm") - 0.08, 0.0) * constants.value("compression_wear_mm2_per_mm")
    scored = np.maximum(m.parameter("piston_score") - 0.15, 0.0) * constants.value("compression_score_mm2")
    area = m.parameter("ring_leak_mm2") * (m.parameter("ring_seat_ratio") if cranking else 1.0) + worn + scored
    broken = m.parameter("rod_broken") * constants.value("compression_broken_mm2")
    return area * (constants.value("compression_oil_seal") if wet else 1.0) + broken


def object_damage(m: Machine) -> FloatArray:
    """Leak by a swallowed object, at the exhaust valve or the rings."""
    return m.parameter("foreign_object_damage") ** 2 * constants.value("compression_object_mm2")


def joint(m: Machine, place: str) -> FloatArray:
    """Leak area of the head joint to the edge or the gallery; loose bolts and warp leak to the edge."""
    area = m.parameter(f"head_gasket_{place}_leak_mm2")
    if place == "gallery":
        return has_valves(m) * area
    loose = np.maximum(m.parameter("head_bolts_loose") - 0.25, 0.0) * constants.value("compression_bolts_mm2")
    warp = np.maximum(m.parameter("head_warp_mm") - 0.05, 0.0) * constants.value("compression_warp_mm2_per_mm")
    return area + loose + warp


def decompression(m: Machine) -> FloatArray:
    """Leak area of the hand decompression valve, where there is one."""
    return m.parameter("decompression_valve_leak_mm2") * (
        1.0 if m.trait("compression_release") == "hand-valve" else 0.0
    )


def stuck_release(m: Machine) -> FloatArray:
    """Opening of a release that stays on; its bump ends just before top dead centre, so a tester there sees nothing."""
    has = 0.0 if m.trait("compression_release") in ("none", "hand-valve") else 1.0
    return has * m.parameter("release_stuck_on") * m.size("release_area_mm2")


def by_place(m: Machine, wet: bool, cranking: bool) -> dict[str, FloatArray]:
    """Leak area by the place where it is heard, release shut."""
    return {
        "carburettor": valve(m, "intake"),
        "muffler": valve(m, "exhaust") + object_damage(m) * has_valves(m),
        "filler": rings(m, wet, cranking) + object_damage(m) * (1.0 - has_valves(m)),
        "head_edge": joint(m, "edge"),
        "pushrod": joint(m, "gallery"),
        "decompression": decompression(m),
    }


def clearance_m3(m: Machine, liquid_cm3: FloatArray | float) -> FloatArray:
    """Clearance volume, less carbon and liquid, never quite nothing."""
    plain = m.size("displacement_cm3") / (m.size("compression_ratio") - 1.0)
    crust = np.maximum(m.parameter("combustion_carbon") - 0.3, 0.0) * constants.value("compression_carbon_share")
    return np.maximum(plain * (1.0 - crust) - liquid_cm3, 0.15 * plain) * 1e-6
