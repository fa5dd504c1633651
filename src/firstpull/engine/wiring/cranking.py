"""Wires who spins the crank, and how fast."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, cranking
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def _by_rope(m: Machine) -> bool:
    return m.drive in ("rope", "lazy-rope")


def _rope_there(m: Machine) -> float:
    """No rope with its cover off, and none on machines with a key whose cover holds no rope starter."""
    if m.trait("rope_in_cover") == "yes":
        return 0.0 if m.off("shroud") else 1.0
    return 0.0 if m.trait("electric_start") == "yes" else 1.0


@rule("rope_grip")
def _rope_grip(m: Machine) -> FloatArray:
    """Share of the pull that reaches the crank: rope, pawls, cup."""
    rope = 1.0 - m.parameter("rope_broken")
    return rope * (1.0 - m.parameter("pawl_slip")) * (1.0 - m.parameter("cup_slip"))


@rule("rope_length_share")
def _rope_length_share(m: Machine) -> FloatArray:
    """An overwound spring goes solid before the rope is out; a slack one leaves rope hanging outside already."""
    solid = 1.0 - 0.7 * m.parameter("rewind_overwound")
    hanging = 0.35 + 0.65 * _returns(m)
    return np.minimum(solid, hanging) * (1.0 - m.parameter("rope_broken"))


@rule("reel_torque_nm")
def _reel_torque_nm(m: Machine) -> FloatArray:
    """Friction of the rope starter itself, a rope off its reel jamming it."""
    return m.parameter("reel_drag_nm") + constants.value("jammed_reel_nm") * m.parameter("rope_off_reel")


def _returns(m: Machine) -> FloatArray:
    """How well the spring takes back a whole rope."""
    return cranking.rope_return(
        m.parameter("rewind_strength"), m.parameter("rewind_overwound"), m.quantity("reel_torque_nm"),
        m.parameter("rope_guide_wear"),
    )  # fmt: skip


def _with_a_rope(m: Machine, value: FloatArray) -> FloatArray:
    """Empty where no rope is left to pull: it neither slips nor stays out."""
    return np.where(m.parameter("rope_broken") > 0.5, np.nan, value)


@rule("rope_return")
def _rope_return(m: Machine) -> FloatArray:
    return _with_a_rope(m, _returns(m))


@rule("rope_fray")
def _rope_fray(m: Machine) -> FloatArray:
    """How frayed the rope looks."""
    return _with_a_rope(m, m.parameter("rope_wear"))


@rule("rope_stays_out")
def _rope_stays_out(m: Machine) -> FloatArray:
    return _with_a_rope(m, 1.0 - _returns(m))


@rule("rope_slips")
def _rope_slips(m: Machine) -> FloatArray:
    return _with_a_rope(m, 1.0 - step_up(m.quantity("rope_grip"), constants.value("least_grip"), 0.05))


@rule("starter_grating")
def _starter_grating(m: Machine) -> FloatArray:
    noise = np.maximum(m.parameter("cup_slip"), m.parameter("ring_teeth_lost"))
    return np.maximum(noise, 0.7 * m.parameter("pawl_slip"))


def _friction_nm(m: Machine) -> FloatArray:
    """Oil, bearings, and what brake and load ask for."""
    oil = m.parameter("oil_viscosity_ratio")
    return cranking.friction_nm(m.size("displacement_cm3"), oil, m.conditions.air_c) + m.quantity("drag_torque_nm")


@rule("rope_drag_n")
def _rope_drag_n(m: Machine) -> FloatArray:
    return (_friction_nm(m) + m.quantity("reel_torque_nm")) / (m.size("rope_radius_mm") * 1e-3)


def _speed_share(m: Machine) -> FloatArray:
    size = m.size("displacement_cm3") / 160.0
    ones = np.ones(m.count)
    compression = constants.value("hand_compression_nm") * size
    usual = constants.value("hand_friction_nm") * size + compression + constants.value("usual_reel_nm")
    # The arm and rope reel of each class suit its engine: strength scales with the usual load.
    strongest = constants.value("arm_strongest_share") * usual
    open_hole = m.off("plug") or m.off("head")
    load = _friction_nm(m) + m.quantity("reel_torque_nm") + (0.0 if open_hole else compression)
    return cranking.arm_speed_share(load, ones * usual, ones * strongest)


@rule("crank_rpm")
def _crank_rpm(m: Machine) -> FloatArray:
    free = 1.0 - step_up(m.quantity("crank_locked"), 0.5, 0.03)
    drive = m.drive
    open_hole = m.off("plug") or m.off("head")
    if m.added("crank-held") or m.off("crankcase") or drive == "none":
        return np.zeros(m.count)
    if drive == "running":
        return np.full(m.count, m.size("rated_speed_rpm"))
    if drive == "drill":
        speed = m.setup.get("drill_rpm", m.size("drill_rpm"))
        return free * speed * (1.0 if open_hole else constants.value("drill_plug_in_share"))
    if drive == "starter":
        return free * m.quantity("starter_turns_rpm")
    pull = cranking.rope_rpm(
        m.size("usual_rope_rpm"), m.parameter("pull_strength"), _speed_share(m), m.quantity("rope_grip"),
        m.quantity("rope_length_share"),
    )  # fmt: skip
    return pull * free * _rope_there(m) * (constants.value("lazy_share") if drive == "lazy-rope" else 1.0)


@rule("brisk")
def _brisk(m: Machine) -> FloatArray:
    """1 where a pull by rope is fast enough to be called one; other drives always are.

    Who forgot to hold the control pulls against the brake and takes that for the rope's own feel.
    """
    forgot = m.trait("operator_presence") == "yes" and not m.added("control-held")
    if m.drive != "rope" or forgot:
        return np.ones(m.count)
    least = constants.value("brisk_share") * m.size("usual_rope_rpm")
    return step_up(m.quantity("crank_rpm"), least, 2.0)


@rule("turns")
def _turns(m: Machine) -> FloatArray:
    """1 where the crank comes round at least as fast as a slow turn by hand."""
    rpm = m.quantity("crank_rpm")
    grips = step_up(m.quantity("rope_grip"), constants.value("least_grip"), 0.02) if _by_rope(m) else 1.0
    return step_up(rpm, constants.value("least_turn_rpm"), 2.0) * grips
