"""Wires the stop circuit: which switches hang on the coil's stop tab in this arrangement, and do they stop it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import breakdown, constants
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import control_open_share, step_up, stop_chance, switch_ohm, tab_ohm
from firstpull.engine.wiring.ignition import break_at, fitted, peak_kv, plug_asked_kv, plug_margin, shunt

FloatArray = NDArray[np.float64]
_OPEN = 1e12


def held(m: Machine) -> FloatArray:
    """1 where the control is really held (or the switch stands at run), 0 where it is let go."""
    if m.trait("operator_presence") == "no":
        return np.full(m.count, 0.0 if m.setup.get("switch_off", 0.0) > 0.5 else 1.0)
    if not m.added("control-held"):
        return np.zeros(m.count)
    return 1.0 - m.parameter("control_slips")


def _open_share(m: Machine, is_held: FloatArray) -> FloatArray:
    travel = m.parameter("control_open_travel")
    if m.trait("brake") == "yes":
        # The brake cable works the switch too: slack beyond its free play is travel that the switch never sees.
        slack = np.maximum(m.parameter("brake_cable_slack_mm") - constants.value("cable_free_play_mm"), 0.0)
        travel = travel - slack / constants.value("cable_stroke_mm")
    return control_open_share(is_held, travel, m.parameter("control_return"))


def operator_ohm(m: Machine, is_held: FloatArray) -> FloatArray:
    """The operator's switch to frame."""
    if m.added("bridged-switch"):
        return np.full(m.count, _OPEN)
    share = _open_share(m, is_held)
    return switch_ohm(share, m.parameter("stop_switch_open_ohm"), m.parameter("stop_switch_closed_ohm"))


def oil_switch_ohm(m: Machine) -> FloatArray:
    """The low-oil switch to frame, as the oil stands."""
    if m.trait("low_oil_switch") != "yes":
        return np.full(m.count, _OPEN)
    level = np.full(m.count, -60.0) if m.off("oil") else m.parameter("oil_level_mm")
    enough = step_up(level, constants.value("low_oil_trip_mm"), constants.value("low_oil_width_mm"))
    return switch_ohm(enough, m.parameter("low_oil_full_ohm"), m.parameter("low_oil_dry_ohm"))


def interlock_ohm(m: Machine, is_held: FloatArray) -> FloatArray:
    """The interlock chain to frame, with the operator in place or gone."""
    if m.trait("interlocks") != "yes" or m.added("bridged-switch") or m.off("interlocks"):
        return np.full(m.count, _OPEN)
    return switch_ohm(is_held, m.parameter("interlock_run_ohm"), m.parameter("interlock_stop_ohm"))


def lead_end_ohm(m: Machine, is_held: FloatArray) -> FloatArray:
    """Coil end of the stop lead to frame."""
    low_oil = np.full(m.count, _OPEN) if m.off("low-oil-lead") else oil_switch_ohm(m)
    branches = (operator_ohm(m, is_held), low_oil, interlock_ohm(m, is_held))
    return tab_ohm(m.parameter("stop_lead_ohm"), m.parameter("stop_lead_series_ohm"), branches)


def _seen_by_coil(m: Machine, let_go: bool) -> FloatArray:
    """What the coil sees of the stop circuit: nothing when its lead is off."""
    if m.off("stop-lead"):
        return np.full(m.count, _OPEN)
    return lead_end_ohm(m, np.zeros(m.count) if let_go else held(m))


@rule("stop_path_ohm")
def _stop_path_ohm(m: Machine) -> FloatArray:
    return _seen_by_coil(m, let_go=False)


def _metered(m: Machine, lead_ohm: FloatArray) -> FloatArray:
    if m.off("stop-lead"):
        return lead_ohm
    primary = fitted(m, "primary_ohm") + fitted(m, "primary_joint_ohm") + fitted(m, "coil_earth_ohm")
    return 1.0 / (1.0 / lead_ohm + 1.0 / primary)


@rule("stop_tab_ohm")
def _stop_tab_ohm(m: Machine) -> FloatArray:
    return _metered(m, lead_end_ohm(m, held(m)))


@rule("stop_tab_released_ohm")
def _stop_tab_released_ohm(m: Machine) -> FloatArray:
    return _metered(m, lead_end_ohm(m, np.zeros(m.count)))


@rule("stop_switch_ohm")
def _stop_switch_ohm(m: Machine) -> FloatArray:
    return operator_ohm(m, held(m))


@rule("low_oil_ohm")
def _low_oil_ohm(m: Machine) -> FloatArray:
    return oil_switch_ohm(m)


@rule("low_oil_cuts")
def _low_oil_cuts(m: Machine) -> FloatArray:
    """The switch kills a cranking spark below some tens of ohms."""
    ohm = np.full(m.count, _OPEN) if m.off("low-oil-lead") else oil_switch_ohm(m)
    return 1.0 - step_up(np.log10(ohm), np.log10(constants.value("cut_ohm")), 0.08)


@rule("interlock_run_ohm")
def _interlock_run_ohm(m: Machine) -> FloatArray:
    return m.parameter("interlock_run_ohm")


@rule("interlock_stop_ohm")
def _interlock_stop_ohm(m: Machine) -> FloatArray:
    return m.parameter("interlock_stop_ohm")


@rule("interlock_start_ohm")
def _interlock_start_ohm(m: Machine) -> FloatArray:
    return m.parameter("interlock_start_ohm")


def running_density(m: Machine) -> FloatArray:
    """Charge density at the spark of the running engine, by load."""
    share = {"none": 0.0, "half": 0.5, "full": 1.0}[m.load]
    air = breakdown.air_pressure_kpa(m.conditions.altitude_m) / 101.325
    pressure = (1.0 - share) * constants.value("run_spark_idle_kpa") + share * constants.value("run_spark_full_kpa")
    heat = (1.0 - share) * constants.value("run_spark_idle_k") + share * constants.value("run_spark_full_k")
    return breakdown.air_density_ratio(np.full(m.count, pressure * air), np.full(m.count, heat))


def _running_kv(m: Machine, path_ohm: FloatArray) -> FloatArray:
    across = shunt(m, path_ohm)
    speed = np.full(m.count, m.size("rated_speed_rpm"))
    # Margins are wide at speed, so coarser steps do (0.7 % rms of the current).
    return peak_kv(m, break_at(m, speed, across, 42), across, "plug")


@rule("held_run_kv")
def _held_run_kv(m: Machine) -> FloatArray:
    """Peak voltage running, control held or switch at run; the same under every load."""
    return _running_kv(m, _seen_by_coil(m, let_go=False))


@rule("run_spark_margin")
def _run_spark_margin(m: Machine) -> FloatArray:
    """Voltage over what the plug asks, running, control held or switch at run."""
    return plug_margin(m, m.quantity("held_run_kv"), running_density(m))


@rule("misfire_share")
def _misfire_share(m: Machine) -> FloatArray:
    return 1.0 - step_up(m.quantity("run_spark_margin"), 1.0, constants.value("spark_scatter"))


@rule("stops_on_release")
def _stops_on_release(m: Machine) -> FloatArray:
    left_kv = _running_kv(m, _seen_by_coil(m, let_go=True))
    return stop_chance(left_kv, plug_asked_kv(m, running_density(m)))


@rule("will_not_stop")
def _will_not_stop(m: Machine) -> FloatArray:
    return 1.0 - m.quantity("stops_on_release")
