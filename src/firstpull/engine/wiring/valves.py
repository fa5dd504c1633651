"""Wires what is seen and heard of valves, cam and release."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]


def _lash_seen(m: Machine, which: str) -> FloatArray:
    return places.has_valves(m) * np.maximum(places.lash(m, which), 0.0)


@rule("intake_lash_now_mm")
def _intake_lash(m: Machine) -> FloatArray:
    return _lash_seen(m, "intake")


@rule("exhaust_lash_now_mm")
def _exhaust_lash(m: Machine) -> FloatArray:
    return _lash_seen(m, "exhaust")


def _lift_seen(m: Machine, which: str) -> FloatArray:
    hang = m.parameter(f"{which}_hang_mm")
    moved = m.parameter(f"{which}_lift_share") * m.size("valve_lift_mm") - np.maximum(places.lash(m, which), 0.0)
    return places.has_valves(m) * np.maximum(moved - hang, 0.0)


@rule("intake_lift_seen_mm")
def _intake_lift(m: Machine) -> FloatArray:
    return _lift_seen(m, "intake")


@rule("exhaust_lift_seen_mm")
def _exhaust_lift(m: Machine) -> FloatArray:
    return _lift_seen(m, "exhaust")


@rule("release_lift_mm")
def _release_lift(m: Machine) -> FloatArray:
    kind = m.trait("compression_release")
    if kind in ("none", "hand-valve"):
        return np.zeros(m.count)
    lash = places.lash(m, "intake" if kind == "intake-lift" else "exhaust")
    lost = (lash - m.size("lash_nominal_mm")) / constants.value("valves_release_bump_mm")
    works = m.parameter("release_lift_share") * np.clip(1.0 - lost, 0.0, 1.3)
    return m.size("release_lift_nominal_mm") * np.maximum(works, m.parameter("release_stuck_on"))


@rule("valve_tick")
def _tick(m: Machine) -> FloatArray:
    half, width = constants.value("valves_tick_mm"), constants.value("valves_tick_width_mm")
    quiet = (1.0 - chance(places.lash(m, "intake"), half, width)) * (
        1.0 - chance(places.lash(m, "exhaust"), half, width)
    )
    return places.has_valves(m) * (1.0 - quiet)


@rule("valve_spit_back")
def _spit_back(m: Machine) -> FloatArray:
    leak = chance(
        places.valve(m, "intake"), constants.value("valves_spit_mm2"), constants.value("valves_spit_width_mm2")
    )
    out_of_step = chance(np.abs(m.parameter("cam_timing_error_deg")), 20.0, 4.0)
    blocked = chance(-m.parameter("exhaust_lift_share"), -0.25, 0.05)
    return places.has_valves(m) * (1.0 - (1.0 - leak) * (1.0 - out_of_step) * (1.0 - blocked))
