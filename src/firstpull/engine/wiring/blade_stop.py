"""Wires the blade brake and the time to a stand."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import blade_stop, constants
from firstpull.engine.driven_load import radians_per_s
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def _braked(m: Machine) -> bool:
    """Whether something brakes the blade: a brake on the flywheel, or the one in a blade clutch."""
    return m.trait("brake") == "yes" or m.trait("blade_clutch") == "yes"


@rule("brake_torque_nm")
def brake_torque_nm(m: Machine) -> FloatArray:
    """Torque of the brake with the control let go."""
    if not _braked(m):
        return np.zeros(m.count)
    return blade_stop.brake_torque_nm(
        m.size("brake_torque_new_nm"), m.parameter("brake_pad_wear"), m.parameter("brake_spring_share"),
        m.parameter("brake_oily"),
    )  # fmt: skip


@rule("brake_frees")
def brake_frees(m: Machine) -> FloatArray:
    """How fully the brake comes off with the control held, 0 to 1."""
    if not _braked(m):
        return np.ones(m.count)
    return blade_stop.brake_frees(m.parameter("brake_cable_slack_mm"))


@rule("brake_bites")
def brake_bites(m: Machine) -> FloatArray:
    """How firmly the brake grips with the control let go, 0 to 1."""
    if not _braked(m):
        return np.zeros(m.count)
    return np.clip(m.quantity("brake_torque_nm") / m.size("brake_torque_new_nm"), 0.0, 1.0)


def _held_drag(m: Machine) -> FloatArray:
    """Brake torque that is left with the control held."""
    return m.parameter("brake_drag_nm") + (1.0 - m.quantity("brake_frees")) * m.quantity("brake_torque_nm")


@rule("brake_on_crank_nm")
def brake_on_crank_nm(m: Machine) -> FloatArray:
    """Brake torque on the crank in this arrangement: all of it unless the control is held."""
    if m.trait("brake") == "no" or m.trait("blade_clutch") == "yes":
        return np.zeros(m.count)
    held = m.trait("operator_presence") == "no" or m.added("control-held") or m.drive == "running"
    return _held_drag(m) if held else np.maximum(m.quantity("brake_torque_nm"), _held_drag(m))


@rule("brake_drag_share")
def brake_drag_share(m: Machine) -> FloatArray:
    """Dragging brake over the full load torque of the machine."""
    if m.trait("brake") == "no":
        return np.zeros(m.count)
    full = m.size("rated_power_w") * m.size("rated_load_share") / radians_per_s(np.full(1, m.size("usual_top_rpm")))
    return _held_drag(m) / full


@rule("stop_time_s")
def stop_time_s(m: Machine) -> FloatArray:
    """From working speed; a loose blade turns on after the shaft stands."""
    speed = radians_per_s(m.quantity("top_rpm"))
    engine = constants.value("engine_coast_nm") if m.trait("blade_clutch") == "no" else constants.value("spindle_nm")
    brake = m.quantity("brake_torque_nm")
    if m.trait("blade_clutch") == "yes":
        brake = brake * (1.0 - m.parameter("blade_clutch_drag"))
    windage = np.full(m.count, constants.value("windage_nms2"))
    crank = m.size("flywheel_inertia_kgm2") if m.trait("blade_clutch") == "no" else 0.0
    blade = m.size("blade_inertia_kgm2") * (1.0 - m.parameter("blade_missing"))
    inertia = np.clip(crank + blade, 1e-5, None)
    time = blade_stop.stop_time_s(inertia, speed, np.clip(brake + engine, 0.05, None), windage)
    return time * (1.0 + constants.value("loose_coast") * m.parameter("blade_loose"))


@rule("blade_keeps_going")
def blade_keeps_going(m: Machine) -> FloatArray:
    """Chance that people would say the blade runs on."""
    if not _braked(m):
        return np.zeros(m.count)
    return step_up(m.quantity("stop_time_s"), constants.value("runs_on_s"), 0.4)
