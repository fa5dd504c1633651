"""Wires magnets, coil, trigger, lead, plug and tester together."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import breakdown, constants, ignition, magneto
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.vocabulary import PARAMETERS

FloatArray = NDArray[np.float64]
_NO_LEAK = 1e12
_COIL = (
    "primary_ohm", "primary_joint_ohm", "secondary_ohm", "shorted_share", "hot_shorted_share", "module_alive",
    "module_opens_c", "trigger_current_a", "turns_ratio", "secondary_pf", "core_loss_mohm", "lead_leak_ohm",
    "lead_flashover_kv", "boot_gap_mm", "trigger_error_deg", "coil_reversed", "coil_earth_ohm",
)  # fmt: skip
_PLUG = ("plug_gap_mm", "plug_shape", "plug_fouling_ohm", "plug_break_kv", "plug_flashover_kv", "plug_resistor_ohm")
Gap = Literal["plug", "none"]


def fitted(m: Machine, name: str) -> FloatArray:
    """A parameter of the coil or plug that is on the machine now: its own, or the one the shop lent."""
    lent = (name in _COIL and m.added("lent-coil")) or (name in _PLUG and m.added("lent-plug"))
    if not lent:
        return m.parameter(name)
    middle = PARAMETERS[name].healthy.quantile(np.full(1, 0.5))[0]
    return np.full(m.count, middle)


def coil_alive(m: Machine) -> FloatArray:
    """1 where the trigger of the coil now fitted works, cold."""
    dead = "lent_coil_dead" if m.added("lent-coil") else "new_coil_dead"
    return fitted(m, "module_alive") * (1.0 - m.parameter(dead))


@rule("rim_scrape")
def rim_scrape(m: Machine) -> FloatArray:
    """Rim on coil legs, heard at every turn."""
    return m.parameter("rim_rub")


@rule("coil_c")
def _coil_c(m: Machine) -> FloatArray:
    hot = m.thermal == "hot"
    return np.full(m.count, m.conditions.air_c + (constants.value("coil_hot_rise_k") if hot else 0.0))


@rule("coil_works")
def _coil_works(m: Machine) -> FloatArray:
    """Share of tries in which the module works at its temperature; neither flywheel nor coil may be off."""
    gives_out = step_up(
        m.quantity("coil_c") - fitted(m, "module_opens_c"), 0.0, constants.value("coil_open_width_k")
    )
    return coil_alive(m) * (1.0 - gives_out) * (0.0 if m.off("flywheel") else 1.0)


def _edge(m: Machine) -> magneto.Edge:
    return magneto.edge(m.size("rim_radius_mm"))


def _points(m: Machine) -> bool:
    return m.trait("trigger") == "points" and not m.added("lent-coil")


def primary(m: Machine, shunt_ohm: FloatArray) -> magneto.Primary:
    """The primary circuit of the coil now fitted, at its temperature, with this across its switch."""
    warm = m.quantity("coil_c") - 20.0
    strength = m.parameter("magnet_strength") * (1.0 + constants.value("magnet_per_k") * warm)
    gap = m.parameter("air_gap_mm") + m.parameter("magnet_rust_mm")
    turns = m.size("primary_turns")
    flux, inductance = magneto.core_flux_and_inductance(gap, strength, np.full(1, m.size("magnet_remanence_t")), turns)
    winding = fitted(m, "primary_ohm") * (1.0 + constants.value("copper_per_k") * warm)
    resistance = winding + fitted(m, "primary_joint_ohm") + fitted(m, "coil_earth_ohm")
    shape = _edge(m)
    at = -shape.edge + constants.value("angle_trigger_widths") * shape.width
    warm_trigger = 1.0 + constants.value("junction_per_k") * warm
    if _points(m):
        angle = at - constants.value("points_deg_per_mm") * (m.parameter("points_gap_mm") - 0.5)
        closes = step_up(m.parameter("points_gap_mm"), 0.08, 0.01)
        return magneto.Primary(
            flux * closes, inductance, resistance, shunt_ohm, np.zeros(1), m.parameter("points_dirt_ohm"),
            np.full(1, 1e6), np.ones(1), angle, turns,
        )  # fmt: skip
    return magneto.Primary(
        flux, inductance, resistance, shunt_ohm,
        constants.value("trigger_on_v") * warm_trigger, np.full(1, constants.value("trigger_on_ohm")),
        fitted(m, "trigger_current_a") * warm_trigger, m.parameter("trigger_family"), np.full(1, at), turns,
    )  # fmt: skip


def shunt(m: Machine, tab_ohm: FloatArray) -> FloatArray:
    """Everything across the switch of the primary: the stop circuit through the coil's own earth, the condenser."""
    leak = tab_ohm + fitted(m, "coil_earth_ohm")
    if _points(m):
        return 1.0 / (1.0 / leak + 1.0 / m.parameter("condenser_leak_ohm"))
    return leak


def secondary(m: Machine, shunt_ohm: FloatArray, gap: Gap) -> ignition.Secondary:
    """What hangs on the secondary: with the plug on the lead, or with a tester that leaks nothing."""
    warm = m.quantity("coil_c") - 20.0
    hot = 1.0 if m.thermal == "hot" else 0.0
    winding = fitted(m, "primary_ohm") * (1.0 + constants.value("copper_per_k") * warm)
    gap_air = m.parameter("air_gap_mm") + m.parameter("magnet_rust_mm")
    _, inductance = magneto.core_flux_and_inductance(gap_air, np.ones(1), np.ones(1), m.size("primary_turns"))
    shorted = np.clip(fitted(m, "shorted_share") + hot * fitted(m, "hot_shorted_share"), 0.0, 0.98)
    bias = 1.0 / (1.0 / constants.value("base_ohm") + 1.0 / constants.value("hold_on_ohm"))
    points = _points(m)
    snubber = np.full(1, constants.value("snubber_nf") * 1e-9)
    capacitor = m.parameter("condenser_uf") * 1e-6 + 1e-10 if points else snubber
    return ignition.Secondary(
        fitted(m, "turns_ratio"), inductance, winding + fitted(m, "primary_joint_ohm"), fitted(m, "secondary_ohm"),
        (fitted(m, "secondary_pf") - (0.0 if gap == "plug" else constants.value("plug_pf"))) * 1e-12,
        capacitor, fitted(m, "core_loss_mohm") * 1e6, shorted, shunt_ohm,
        plug_shunt(m) if gap == "plug" else np.full(1, _NO_LEAK), fitted(m, "lead_leak_ohm"),
        np.full(1, constants.value("clamp_v")), np.full(1, _NO_LEAK if points else bias),
    )  # fmt: skip


def plug_shunt(m: Machine) -> FloatArray:
    """Leak across the plug now fitted."""
    dead = m.parameter("lent_plug_dead" if m.added("lent-plug") else "new_plug_dead")
    return 1.0 / (1.0 / fitted(m, "plug_fouling_ohm") + dead / 100.0)


def break_at(m: Machine, rpm: FloatArray, shunt_ohm: FloatArray, steps: int = magneto.STEPS) -> magneto.Break:
    """The break at this speed with this across the switch."""
    return magneto.break_of(primary(m, shunt_ohm), rpm, _edge(m), steps, np.float32)


def peak_kv(m: Machine, cut: magneto.Break, shunt_ohm: FloatArray, gap: Gap) -> FloatArray:
    """Peak voltage at the end of the lead, flashed over where lead or coil cannot hold it."""
    current = cut.current_a
    if _points(m):
        farad = m.parameter("condenser_uf")
        current = current * farad / (farad + constants.value("points_arc_uf"))
    voltage = ignition.open_circuit_kv(secondary(m, shunt_ohm, gap), replace(cut, current_a=current))
    return np.minimum(voltage, fitted(m, "lead_flashover_kv")) * m.quantity("coil_works")


@rule("shunt_ohm")
def _shunt_ohm(m: Machine) -> FloatArray:
    return shunt(m, m.quantity("stop_path_ohm"))


@rule("break_state")
def _break_state(m: Machine) -> FloatArray:
    """The break by this drive, its fields stacked, shape (5, N): one run serves every gap."""
    cut = break_at(m, m.quantity("crank_rpm"), m.quantity("shunt_ohm"))
    return np.stack([cut.fires, cut.current_a, cut.angle_deg, cut.emf_v, cut.before_v])


def cut_now(m: Machine) -> magneto.Break:
    """The break by this drive."""
    return magneto.Break(*m.quantity("break_state"))


@rule("tester_kv")
def _tester_kv(m: Machine) -> FloatArray:
    return peak_kv(m, cut_now(m), m.quantity("shunt_ohm"), "none")


@rule("spark_kv")
def _spark_kv(m: Machine) -> FloatArray:
    return peak_kv(m, cut_now(m), m.quantity("shunt_ohm"), "plug")


@rule("spark_mj")
def _spark_mj(m: Machine) -> FloatArray:
    return ignition.stored_mj(primary(m, m.quantity("shunt_ohm")).inductance_h, cut_now(m).current_a)


def _one(m: Machine) -> FloatArray:
    return np.ones(m.count)


def _open_air(m: Machine) -> FloatArray:
    pressure = breakdown.air_pressure_kpa(m.conditions.altitude_m)
    return breakdown.air_density_ratio(_one(m) * pressure, _one(m) * (m.conditions.air_c + 273.15))


def boot_kv(m: Machine) -> FloatArray:
    """What a gap inside the boot asks on top."""
    return breakdown.uniform_field_kv(np.maximum(fitted(m, "boot_gap_mm"), 0.0), _one(m))


def plug_asked_kv(m: Machine, density: FloatArray) -> FloatArray:
    """What the plug now fitted asks at this charge density, with breaks in plug and boot."""
    gap = breakdown.asked_kv(fitted(m, "plug_gap_mm"), density, fitted(m, "plug_shape"))
    return gap + fitted(m, "plug_break_kv") + boot_kv(m)


def plug_margin(m: Machine, available_kv: FloatArray, density: FloatArray) -> FloatArray:
    """Voltage that the plug can get over what it asks; a cracked insulator flashes over first."""
    ceiling = fitted(m, "plug_flashover_kv") + fitted(m, "plug_break_kv") + boot_kv(m)
    bridged = step_up(fitted(m, "plug_gap_mm"), 0.05, 0.005)
    return bridged * np.minimum(available_kv, ceiling) / plug_asked_kv(m, density)


@rule("tester_margin")
def _tester_margin(m: Machine) -> FloatArray:
    air = _open_air(m)
    if m.added("in-line-tester"):
        return m.quantity("plug_spark_margin") * m.parameter("tester_alive")
    gap = _one(m) * m.setup.get("tester_gap_mm", constants.value("tester_gap_mm"))
    asked = breakdown.asked_kv(gap, air, _one(m) * m.setup.get("tester_tip", constants.value("tester_tip")))
    return m.quantity("tester_kv") / (asked + boot_kv(m)) * m.parameter("tester_alive")


@rule("free_air_margin")
def _free_air_margin(m: Machine) -> FloatArray:
    air = _open_air(m)
    return plug_margin(m, m.quantity("spark_kv"), air)


@rule("plug_spark_margin")
def _plug_spark_margin(m: Machine) -> FloatArray:
    density = breakdown.air_density_ratio(m.quantity("spark_pressure_kpa"), m.quantity("spark_temperature_k"))
    return plug_margin(m, m.quantity("spark_kv"), density)


def _spark_btdc(m: Machine, break_deg: FloatArray) -> FloatArray:
    shape = _edge(m)
    at = -shape.edge + constants.value("angle_trigger_widths") * shape.width
    by_angle = np.ones(m.count) if _points(m) else m.parameter("trigger_family")
    nominal = np.where(by_angle > 0.5, at, constants.value("current_break_deg") * 90.0 / m.size("rim_radius_mm"))
    late = fitted(m, "trigger_error_deg") + fitted(m, "coil_reversed") * 2.0 * shape.edge
    return ignition.spark_btdc(m.size("design_spark_deg"), break_deg, nominal, late, m.parameter("key_offset_deg"))


@rule("spark_btdc_deg")
def _spark_btdc_deg(m: Machine) -> FloatArray:
    return _spark_btdc(m, cut_now(m).angle_deg)


@rule("run_spark_btdc_deg")
def _run_spark_btdc_deg(m: Machine) -> FloatArray:
    """Spark angle at running speed; a drift with speed of less than two degrees is left out."""
    return _spark_btdc(m, np.full(m.count, constants.value("current_break_deg") * 90.0 / m.size("rim_radius_mm")))
