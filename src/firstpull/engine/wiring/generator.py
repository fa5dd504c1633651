"""Wires the electrical end of a generator."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, generator
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.wiring.variants import at_load

FloatArray = NDArray[np.float64]
_LOAD = {"none": 0.0, "half": 0.5, "full": 1.0}


def _speed_share(m: Machine) -> FloatArray:
    return m.quantity("loaded_rpm") / (60.0 * m.size("nominal_hz") / m.size("pole_pairs"))


@rule("outlet_path")
def outlet_path(m: Machine) -> FloatArray:
    """Continuity from winding to the outlet tried, 1 through to 0 open."""
    shut = 1.0 if not m.off("breaker") else 0.0
    return (1.0 - m.parameter("breaker_open")) * (1.0 - m.parameter("socket_open")) * shut


@rule("brush_contact_share")
def brush_contact_share(m: Machine) -> FloatArray:
    """Contact of the brushes; 1 where there are none."""
    if m.trait("generator_kind") != "brush":
        return np.ones(m.count)
    return generator.brush_share(m.parameter("brush_length_mm"), m.parameter("brush_contact"))


@rule("winding_residual_v")
def winding_residual_v(m: Machine) -> FloatArray:
    """Residual volts at the winding, at the speed of the arrangement."""
    whole = (1.0 - m.parameter("stator_open")) * m.parameter("stator_turns_share")
    return m.size("usual_residual_v") * m.parameter("residual_magnetism_share") * _speed_share(m) * whole


@rule("residual_v")
def residual_v(m: Machine) -> FloatArray:
    """Volts at the outlet without excitation."""
    if m.trait("generator_kind") in ("none", "inverter"):
        return np.zeros(m.count)
    return m.quantity("winding_residual_v") * m.quantity("outlet_path")


@rule("excited")
def excited(m: Machine) -> FloatArray:
    """Chance that it builds up: residual field, and a sound path for the exciting current."""
    if m.trait("generator_kind") == "capacitor":
        path = 1.0 - m.parameter("rotor_open")
        return generator.builds_up(m.quantity("winding_residual_v"), path)
    sound = m.quantity("brush_contact_share") * (1.0 - m.parameter("rotor_open"))
    field = sound * np.clip(m.parameter("regulator_gain") / 0.5, 0.0, 1.0)
    return generator.builds_up(m.quantity("winding_residual_v"), field)


@rule("winding_share")
def winding_share(m: Machine) -> FloatArray:
    """Volts at the winding over nominal, once excited."""
    load, drop = _LOAD[m.load], m.size("winding_drop_share")
    if m.trait("generator_kind") == "inverter":
        enough = step_up(_speed_share_inverter(m), constants.value("inverter_least_speed"), 0.03)
        return (1.0 - m.parameter("inverter_dead")) * (1.0 + 0.35 * m.parameter("inverter_over")) * enough
    if m.trait("generator_kind") == "capacitor":
        turns = m.parameter("stator_turns_share") * (1.0 - m.parameter("stator_open"))
        return generator.capacitor_share(_speed_share(m), m.parameter("capacitor_share"), turns, load, drop)
    possible = generator.full_field_share(
        _speed_share(m), m.parameter("rotor_turns_share"),
        m.parameter("stator_turns_share") * (1.0 - m.parameter("stator_open")),
        m.quantity("brush_contact_share"), m.parameter("regulator_gain"),
    )  # fmt: skip
    return generator.regulated_share(possible, m.parameter("regulator_over"), load, drop)


def _speed_share_inverter(m: Machine) -> FloatArray:
    return m.quantity("loaded_rpm") / m.size("usual_top_rpm")


@rule("output_v")
def output_v(m: Machine) -> FloatArray:
    """Volts at the outlet; residual volts alone where it does not build up."""
    if m.trait("generator_kind") == "none":
        return np.zeros(m.count)
    working = m.size("nominal_v") * m.quantity("winding_share")
    if m.trait("generator_kind") == "inverter":
        return working * m.quantity("outlet_path")
    up = m.quantity("excited")
    return (up * working + (1.0 - up) * m.quantity("winding_residual_v")) * m.quantity("outlet_path")


@rule("output_hz")
def output_hz(m: Machine) -> FloatArray:
    """Frequency at the outlet under the load of the arrangement."""
    kind = m.trait("generator_kind")
    if kind == "none":
        return np.zeros(m.count)
    if kind == "inverter":
        return m.size("nominal_hz") * np.asarray(m.quantity("output_v") > 1.0, dtype=np.float64)
    return generator.output_hz(m.quantity("loaded_rpm"), m.size("pole_pairs"))


@rule("voltage_sag_percent")
def voltage_sag_percent(m: Machine) -> FloatArray:
    """Fall of volts from no load to full load; a set that gives nothing to begin with does not sag."""
    none = np.clip(at_load(m, "none").quantity("output_v"), 1e-3, None)
    alive = step_up(none / m.size("nominal_v"), constants.value("dead_share"), 0.05)
    return 100.0 * (1.0 - at_load(m, "full").quantity("output_v") / none) * alive


@rule("no_output")
def no_output(m: Machine) -> FloatArray:
    """Chance that people would say there is no electricity."""
    if m.trait("generator_kind") == "none":
        return np.zeros(m.count)
    return 1.0 - step_up(m.quantity("output_v") / m.size("nominal_v"), constants.value("dead_share"), 0.05)


@rule("weak_current")
def weak_current(m: Machine) -> FloatArray:
    """Chance that people would speak of dim lamps or slow motors: volts or hertz plainly low (judgement)."""
    if m.trait("generator_kind") == "none":
        return np.zeros(m.count)
    volts = step_up(m.quantity("output_v") / m.size("nominal_v"), 0.88, 0.02)
    hertz = step_up(m.quantity("output_hz") / m.size("nominal_hz"), 0.9, 0.02)
    return 1.0 - volts * hertz


@rule("over_voltage")
def over_voltage(m: Machine) -> FloatArray:
    """Chance that volts are high enough to harm what is plugged in."""
    if m.trait("generator_kind") == "none":
        return np.zeros(m.count)
    return step_up(m.quantity("output_v") / m.size("nominal_v"), constants.value("harm_share"), 0.015)


@rule("light_flicker")
def light_flicker(m: Machine) -> FloatArray:
    """Speed that swings shows in the lamps, except behind an inverter; so do brushes that bounce."""
    kind = m.trait("generator_kind")
    if kind in ("none", "inverter"):
        return np.zeros(m.count)
    bounce = 4.0 * m.quantity("brush_contact_share") * (1.0 - m.quantity("brush_contact_share"))
    swing = m.quantity("hunting_swing_rpm") / m.size("usual_top_rpm")
    return np.clip(np.maximum(swing / 0.02 * 0.5, bounce - 0.45), 0.0, 1.0)


@rule("rotor_ohm")
def rotor_ohm(m: Machine) -> FloatArray:
    """Ring to ring, brushes lifted; a million = open."""
    return generator.winding_ohm(
        m.size("rotor_winding_ohm"), m.parameter("rotor_turns_share"), m.parameter("rotor_open")
    )


@rule("brush_path_ohm")
def brush_path_ohm(m: Machine) -> FloatArray:
    """Brush to brush with the brushes on the rings."""
    contact = np.clip(m.quantity("brush_contact_share"), 1e-6, 1.0)
    path = m.quantity("rotor_ohm") + constants.value("brush_ohm") / contact**2
    return np.minimum(path, constants.value("open_ohm"))


@rule("stator_ohm")
def stator_ohm(m: Machine) -> FloatArray:
    """Main winding; a million = open."""
    return generator.winding_ohm(
        m.size("stator_winding_ohm"), m.parameter("stator_turns_share"), m.parameter("stator_open")
    )


@rule("stator_balance")
def stator_balance(m: Machine) -> FloatArray:
    """Lower over higher of a pair of windings that should be equal."""
    turns = m.parameter("stator_turns_share")
    return np.minimum(turns, 1.0 / np.clip(turns, 0.1, None)) * (1.0 - m.parameter("stator_open"))


@rule("capacitor_uf")
def capacitor_uf(m: Machine) -> FloatArray:
    """Excitation capacitor off the circuit and discharged."""
    return m.size("capacitor_printed_uf") * m.parameter("capacitor_share")


@rule("insulation_mohm")
def insulation_mohm(m: Machine) -> FloatArray:
    """Stator and rotor to frame side by side."""
    stator = constants.value("usual_insulation_mohm") * np.clip(m.parameter("insulation_share"), 1e-6, None)
    rotor = np.clip(m.parameter("rotor_leak_mohm"), 1e-6, None)
    return 1.0 / (1.0 / stator + 1.0 / rotor) if m.trait("generator_kind") == "brush" else stator


@rule("earth_fault_trips")
def earth_fault_trips(m: Machine) -> FloatArray:
    """Chance that the earth-fault device trips when tested."""
    live = step_up(m.quantity("output_v") / m.size("nominal_v"), 0.6, 0.05)
    return (1.0 - m.parameter("earth_fault_dead")) * live
