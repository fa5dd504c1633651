"""Wires the parts of the carburettor."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import carburettor, constants
from firstpull.engine.machine import Machine, rule
from firstpull.engine.mixture import steadiness

FloatArray = NDArray[np.float64]
_SET = {"open": 0.0, "part": 0.5, "closed": 1.0}


@rule("main_free")
def main_free(m: Machine) -> FloatArray:
    """Flow of the main circuit over the right one."""
    jet = m.parameter("main_jet_open") * m.parameter("jet_size_share")
    return carburettor.jet_free(jet, m.parameter("gum_in_jets"), m.parameter("dirt_in_bowl"))


@rule("idle_free")
def idle_free(m: Machine) -> FloatArray:
    """Flow of the idle circuit over the right one."""
    gum = constants.value("gum_idle_gain") * m.parameter("gum_in_jets")
    jet = m.parameter("idle_jet_open") * m.parameter("jet_size_share")
    return carburettor.jet_free(jet, gum, 0.5 * m.parameter("dirt_in_bowl"))


@rule("metering_share")
def metering_share(m: Machine) -> FloatArray:
    """What the metering side of a diaphragm carburettor makes of it; 1 with a float."""
    if m.trait("carburettor") == "float":
        return np.ones(m.count)
    ratio = carburettor.metering_ratio(
        m.parameter("metering_stiffness"),
        m.parameter("metering_lever_mm"),
        m.parameter("metering_gasket_wrong"),
    )
    late = np.clip((m.quantity("pop_off_kpa") - 140.0) / 200.0, 0.0, 0.7)
    return ratio * (1.0 - late)


@rule("choke_closed_share")
def choke_closed_share(m: Machine) -> FloatArray:
    """How far the choke is closed in this arrangement; a user who misuses it when the set-up says by_user."""
    wanted = np.full(m.count, _SET[m.choke])
    if m.trait("choke_kind") == "auto-choke" and m.choke == "open":
        cold = m.thermal == "cold" and m.drive != "running"
        wanted = np.full(m.count, 1.0 if cold else 0.0)
    wrong = m.parameter("choke_misused")  # asked for whoever's hands it is in, so that a trace finds it
    if m.setup.get("by_user", 0.0) > 0.5:
        wanted = wanted * (1.0 - wrong) + (1.0 - wanted) * wrong
    if m.trait("choke_kind") == "primer":
        return wanted
    closed = np.minimum(wanted, m.parameter("choke_closes"))
    return np.asarray(np.maximum(closed, 1.0 - m.parameter("choke_opens")))


@rule("choke_gain")
def choke_gain(m: Machine) -> FloatArray:
    """Enrichment by the choke plate; a primer bulb acts at the start only."""
    if m.trait("choke_kind") == "primer":
        return np.ones(m.count)
    return carburettor.choke_ratio(m.quantity("choke_closed_share"))


@rule("overflow")
def overflow(m: Machine) -> FloatArray:
    """How far raw fuel runs over the nozzle: needle held open, float sunk or set very high."""
    high = np.clip((m.parameter("float_level_mm") - 6.0) / 6.0, 0.0, 1.0)
    shut = (
        (1.0 - m.parameter("needle_leak"))
        * (1.0 - constants.value("sunk_overflow") * m.parameter("float_sunk"))
        * (1.0 - 0.5 * high)
    )
    fed = np.tanh(m.quantity("inlet_flow_ml_min") / 8.0)
    return (1.0 - shut) * fed


@rule("needle_drip_ml_min")
def needle_drip_ml_min(m: Machine) -> FloatArray:
    """Fuel past the closed needle."""
    open_ = 1.0 - (1.0 - m.parameter("needle_leak")) * (1.0 - constants.value("sunk_drip") * m.parameter("float_sunk"))
    return constants.value("needle_drip_ml_min") * open_ * np.tanh(m.quantity("inlet_flow_ml_min") / 20.0)


@rule("needle_hold_share")
def needle_hold_share(m: Machine) -> FloatArray:
    """Share of the test pressure left on the inlet needle after half a minute."""
    return carburettor.needle_hold_share(m.parameter("needle_leak"))


@rule("pop_off_kpa")
def pop_off_kpa(m: Machine) -> FloatArray:
    """Pressure at which the inlet needle opens under a hand pump."""
    soft = m.parameter("pop_off_set_kpa") * (1.0 - 0.8 * m.parameter("needle_leak"))
    return soft + constants.value("stuck_pop_off_kpa") * m.parameter("needle_stuck_shut")


@rule("screw_response")
def screw_response(m: Machine) -> FloatArray:
    """How clearly speed answers the mixture screws, 0 not at all to 1 crisply."""
    if m.trait("mixture_screws") == "no":
        return np.zeros(m.count)
    worst = np.minimum(m.quantity("main_free"), m.quantity("idle_free"))
    return np.clip(worst, 0.0, 1.0) * steadiness(m.quantity("run_mixture_phi"))


@rule("bowl_fuel_ml")
def bowl_fuel_ml(m: Machine) -> FloatArray:
    """Fuel found in the bowl or metering chamber when opened after trying to start it."""
    level = np.clip(1.0 + m.parameter("float_level_mm") / 25.0 + 0.2 * m.quantity("overflow"), 0.2, 1.4)
    return m.size("bowl_ml") * m.quantity("bowl_ready") * level


@rule("jet_light_share")
def jet_light_share(m: Machine) -> FloatArray:
    """How much of the light comes through the worst jet or passage, 1 clean."""
    worst = np.minimum(np.minimum(m.quantity("main_free"), m.quantity("idle_free")), m.parameter("air_bleed_open"))
    return np.clip(worst, 0.0, 1.0)
