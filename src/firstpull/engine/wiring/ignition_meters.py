"""Wires what meters, feelers and hands read on the ignition."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, ignition
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring.ignition import break_at, coil_alive, fitted, plug_shunt

FloatArray = NDArray[np.float64]


@rule("air_gap_mm")
def _air_gap_mm(m: Machine) -> FloatArray:
    return m.parameter("air_gap_mm")


@rule("plug_gap_mm")
def _plug_gap_mm(m: Machine) -> FloatArray:
    return fitted(m, "plug_gap_mm")


@rule("plug_ohm")
def _plug_ohm(m: Machine) -> FloatArray:
    return fitted(m, "plug_resistor_ohm")


@rule("plug_insulation_ohm")
def _plug_insulation_ohm(m: Machine) -> FloatArray:
    return plug_shunt(m)


@rule("points_gap_mm")
def _points_gap_mm(m: Machine) -> FloatArray:
    return m.parameter("points_gap_mm")


@rule("points_closed_ohm")
def _points_closed_ohm(m: Machine) -> FloatArray:
    return m.parameter("points_dirt_ohm")


@rule("condenser_uf")
def _condenser_uf(m: Machine) -> FloatArray:
    return m.parameter("condenser_uf")


@rule("condenser_leak_ohm")
def _condenser_leak_ohm(m: Machine) -> FloatArray:
    return m.parameter("condenser_leak_ohm")


@rule("flywheel_nut_share")
def _flywheel_nut_share(m: Machine) -> FloatArray:
    return m.parameter("flywheel_nut_share")


@rule("key_step_mm")
def _key_step_mm(m: Machine) -> FloatArray:
    return ignition.key_step_mm(m.parameter("key_offset_deg"), m.size("taper_radius_mm"))


@rule("magnet_pull_mm")
def _magnet_pull_mm(m: Machine) -> FloatArray:
    return ignition.magnet_pull_mm(m.parameter("magnet_strength"), m.parameter("magnet_rust_mm"))


def _winding_factor(m: Machine) -> FloatArray:
    return 1.0 + constants.value("copper_per_k") * (m.quantity("coil_c") - 20.0)


@rule("primary_meter_ohm")
def _primary_meter_ohm(m: Machine) -> FloatArray:
    """Tab to core; the stop lead, when still plugged in, lies across it. A dead module may short or open it: unseen."""
    winding = fitted(m, "primary_ohm") * _winding_factor(m) + fitted(m, "primary_joint_ohm")
    return 1.0 / (1.0 / winding + 1.0 / m.quantity("shunt_ohm"))


@rule("secondary_meter_ohm")
def _secondary_meter_ohm(m: Machine) -> FloatArray:
    """A burnt boot contact opens the way of the meter; shorted turns shorten it by their share."""
    shorted = np.clip(fitted(m, "shorted_share"), 0.0, 0.98)
    winding = fitted(m, "secondary_ohm") * _winding_factor(m) * (1.0 - shorted)
    broken = np.where(fitted(m, "boot_gap_mm") > 0.02, 1e9, 0.0)
    return winding + broken


@rule("threshold_rpm")
def _threshold_rpm(m: Machine) -> FloatArray:
    """By bisection on whether the trigger fires; 5000 where it never does below that."""
    low, high = np.full(m.count, 20.0), np.full(m.count, 5000.0)
    shunt = m.quantity("shunt_ohm")
    for _ in range(10):
        middle = np.sqrt(low * high)
        fires = break_at(m, middle, shunt).fires > 0.5
        high, low = np.where(fires, middle, high), np.where(fires, low, middle)
    return np.where(coil_alive(m) > 0.5, high, 5000.0)
