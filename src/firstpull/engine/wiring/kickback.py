"""Wires kick-back and bounce."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import combustion, constants, kickback, starting
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places
from firstpull.engine.wiring.compression import as_pulled

FloatArray = NDArray[np.float64]
_NO_FIRE_OFF = ("plug", "plug-lead", "head", "crankcase", "flywheel", "fuel")
_NO_FIRE_ADDED = ("tester-on-lead", "crank-held", "ports-blocked", "clip-switch")


def _pulled(m: Machine) -> Machine:
    """As arranged when something spins it, else as its owner pulls it."""
    return as_pulled(m) if m.drive in ("none", "running") else m


def _hand_nm(m: Machine) -> FloatArray:
    by_hand = 1.0 if m.drive in ("rope", "lazy-rope") else 0.0
    force = constants.value("kick_hand_n") * (m.size("displacement_cm3") / 160.0)
    return by_hand * force * m.size("rope_radius_mm") * 1e-3 * m.parameter("pull_strength")


@rule("kick_ratio_as_pulled")
def _ratio_as_pulled(m: Machine) -> FloatArray:
    shape = places.geometry(m)
    phi = np.clip(m.quantity("start_mixture_phi"), 0.75, 1.6)
    rpm = np.maximum(m.quantity("crank_rpm"), 60.0)
    burnt = np.full(m.count, 0.05)
    burn = combustion.burn_duration(phi, burnt, rpm, m.parameter("burn_speed_ratio"))
    spark = m.quantity("spark_btdc_deg")
    state = m.quantity("spark_state")
    work = kickback.burn_work_before_top(
        shape, places.clearance_m3(m, 0.0), spark, state[0], state[1], burn, combustion.heat_per_kg(phi, burnt),
        np.full(m.count, places.ambient_pa(m)),
    )  # fmt: skip
    spent = constants.value("kick_spent_share") * m.quantity("compression_work_j")
    return kickback.kick_ratio(work, m.quantity("inertia_kgm2"), rpm, spent, _hand_nm(m), spark)


@rule("fires_to_kick")
def _fires(m: Machine) -> FloatArray:
    """Chance that a pull fires at all, whatever the timing."""
    if any(m.off(token) for token in _NO_FIRE_OFF) or any(m.added(token) for token in _NO_FIRE_ADDED):
        return np.zeros(m.count)
    mixture = starting.mixture_chance(
        m.quantity("start_mixture_phi"), constants.value("start_lean_phi"), constants.value("start_rich_phi")
    )
    return starting.spark_chance(m.quantity("plug_spark_margin")) * mixture


@rule("kick_ratio")
def _ratio(m: Machine) -> FloatArray:
    return _pulled(m).quantity("kick_ratio_as_pulled")


@rule("kick")
def _kick(m: Machine) -> FloatArray:
    pulled = _pulled(m)
    beaten = chance(pulled.quantity("kick_ratio_as_pulled"), 1.0, constants.value("kick_width"))
    return beaten * pulled.quantity("fires_to_kick") * pulled.quantity("turns")


@rule("bounce")
def _bounce(m: Machine) -> FloatArray:
    pulled = _pulled(m)
    rpm = np.maximum(pulled.quantity("crank_rpm"), 60.0)
    half_turn = np.full(m.count, 120.0)
    over = kickback.kick_ratio(
        pulled.quantity("compression_work_j"),
        pulled.quantity("inertia_kgm2"),
        rpm,
        np.zeros(pulled.count),
        _hand_nm(pulled),
        half_turn,
    )
    half, width = constants.value("kick_bounce_ratio"), constants.value("kick_bounce_width")
    return chance(over, half, width) * pulled.quantity("turns")
