"""Wires battery, cables, solenoid and starter motor."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, starter_electrics
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]
_START_CHAIN_OHM = 50.0


@rule("starter_wanted")
def starter_wanted(m: Machine) -> FloatArray:
    """How surely the key calls the solenoid: key, fuse, interlock chain, charge enough to pull it in."""
    if m.off("battery-earth") or m.off("starter") or m.trait("electric_start") == "no":
        return np.zeros(m.count)
    chain = (1.0 - m.parameter("key_open")) * (1.0 - m.parameter("fuse_open"))
    locked = step_up(np.log(np.clip(m.parameter("interlock_start_ohm"), 1e-3, None) / _START_CHAIN_OHM), 0.0, 0.3)
    strong = step_up(m.quantity("battery_rest_v"), constants.value("solenoid_hold_v"), 0.3)
    return chain * (1.0 - locked) * strong


@rule("battery_rest_v")
def battery_rest_v(m: Machine) -> FloatArray:
    """Battery posts at rest."""
    return starter_electrics.battery_rest_v(m.parameter("battery_charge"), m.parameter("battery_cell_dead"))


@rule("starter_closed")
def starter_closed(m: Machine) -> FloatArray:
    """Whether the heavy contacts close."""
    return np.asarray(m.quantity("starter_wanted") * (1.0 - m.parameter("solenoid_open")) > 0.5, dtype=np.float64)


@rule("starter_parts")
def starter_parts(m: Machine) -> FloatArray:
    """Current, volts at posts, volts at starter, crank speed with the contacts closed: four rows of N."""
    inner = starter_electrics.battery_inner_ohm(
        m.parameter("battery_ohm"), m.parameter("battery_charge"), m.parameter("battery_cell_dead")
    )
    way = m.parameter("cable_ohm") + m.parameter("earth_ohm") + m.parameter("solenoid_contact_ohm")
    size = m.size("displacement_cm3") / 160.0
    # A bigger engine gets a bigger motor: less resistance, in step with the torque it has to give.
    worn = constants.value("brush_worn_ohm") * m.parameter("starter_brush_wear") ** 6
    motor = m.size("starter_ohm") / size**0.75 + worn
    opened = m.off("plug") or m.off("head")
    torque = constants.value("cranking_nm") * size**0.75 * (0.45 if opened else 1.0) + m.quantity("drag_torque_nm")
    torque = torque + constants.value("starter_drag_nm") * m.parameter("starter_drag")
    torque = torque + 200.0 * step_up(m.quantity("crank_locked"), 0.5, 0.03)
    found = starter_electrics.cranking(
        m.quantity("battery_rest_v"), inner, way, motor, torque * (1.0 - 0.9 * m.parameter("pinion_stuck")),
        m.size("starter_gear"), m.size("starter_kt_nm_a"),
    )  # fmt: skip
    return np.stack([found.current_a, found.battery_v, found.starter_v, found.crank_rpm])


@rule("starter_current_a")
def starter_current_a(m: Machine) -> FloatArray:
    """Current with the key at start."""
    return np.asarray(m.quantity("starter_parts")[0] * m.quantity("starter_closed"))


@rule("battery_cranking_v")
def battery_cranking_v(m: Machine) -> FloatArray:
    """Battery posts with the key at start."""
    closed = m.quantity("starter_closed")
    return np.asarray(closed * m.quantity("starter_parts")[1] + (1.0 - closed) * m.quantity("battery_rest_v"))


@rule("starter_v")
def starter_v(m: Machine) -> FloatArray:
    """At the starter with the key at start."""
    return np.asarray(m.quantity("starter_closed") * m.quantity("starter_parts")[2])


@rule("cable_drop_v")
def cable_drop_v(m: Machine) -> FloatArray:
    """Positive side, battery post to starter stud without the solenoid, key at start."""
    return m.quantity("starter_current_a") * m.parameter("cable_ohm")


@rule("earth_drop_v")
def earth_drop_v(m: Machine) -> FloatArray:
    """Starter body to battery earth post, key at start."""
    return m.quantity("starter_current_a") * m.parameter("earth_ohm")


@rule("solenoid_drop_v")
def solenoid_drop_v(m: Machine) -> FloatArray:
    """Across the big posts: all of the battery while they stay open."""
    closed = m.quantity("starter_closed")
    drop = m.quantity("starter_current_a") * m.parameter("solenoid_contact_ohm")
    return closed * drop + (1.0 - closed) * m.quantity("battery_rest_v")


@rule("solenoid_click")
def solenoid_click(m: Machine) -> FloatArray:
    """Chance of a plain click with the key at start."""
    return m.quantity("starter_wanted") * (1.0 - m.parameter("solenoid_open"))


@rule("starter_turns_rpm")
def starter_turns_rpm(m: Machine) -> FloatArray:
    """Crank speed; none where the pinion spins alone."""
    engages = 1.0 - np.asarray(m.parameter("pinion_stuck") > 0.5, dtype=np.float64)
    return np.asarray(m.quantity("starter_parts")[3] * m.quantity("starter_closed") * engages)


@rule("only_clicks")
def only_clicks(m: Machine) -> FloatArray:
    """Chance that people would say it only clicks."""
    still = 1.0 - step_up(m.quantity("starter_turns_rpm"), 60.0, 12.0)
    silent_spin = 0.8 * m.parameter("pinion_stuck")
    return m.quantity("solenoid_click") * still * (1.0 - silent_spin)


@rule("starter_spins_alone")
def starter_spins_alone(m: Machine) -> FloatArray:
    """Chance that people would say the starter whirrs and the engine stands."""
    return m.quantity("starter_closed") * m.parameter("pinion_stuck")


@rule("cranks_slowly")
def cranks_slowly(m: Machine) -> FloatArray:
    """Chance that people would say it cranks slowly."""
    if m.trait("electric_start") == "no":
        return np.zeros(m.count)
    rpm = m.quantity("starter_turns_rpm")
    return step_up(rpm, 60.0, 12.0) * (1.0 - step_up(rpm, constants.value("slow_crank_rpm"), 20.0))


@rule("cranks_not")
def cranks_not(m: Machine) -> FloatArray:
    """Chance that nothing at all happens with the key."""
    if m.trait("electric_start") == "no":
        return np.zeros(m.count)
    return 1.0 - m.quantity("solenoid_click")
