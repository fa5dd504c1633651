"""Wires charging."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import charging, constants
from firstpull.engine.generator import winding_ohm
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


@rule("charge_coil_vac")
def charge_coil_vac(m: Machine) -> FloatArray:
    """Alternating volts of the charging coil off circuit, running fast."""
    return _coil_vac(m, m.quantity("top_rpm"))


@rule("charge_v")
def charge_v(m: Machine) -> FloatArray:
    """Battery posts with the engine running fast."""
    return _charge_v(m, m.quantity("charge_coil_vac"))


def _coil_vac(m: Machine, rpm: FloatArray) -> FloatArray:
    if m.trait("charging") == "none":
        return np.zeros(m.count)
    return charging.coil_vac(
        m.size("charge_coil_full_vac"), rpm, m.parameter("charge_coil_share"), m.parameter("charge_coil_open")
    )


def _charge_v(m: Machine, coil_vac: FloatArray) -> FloatArray:
    regulated = m.trait("charging") == "regulated"
    passes = 1.0 - m.parameter("charge_diode_open")
    if regulated:
        passes = passes * (1.0 - m.parameter("charge_regulator_dead"))
    return charging.charge_v(
        m.quantity("battery_rest_v"), coil_vac, passes, m.parameter("charge_regulator_over"),
        regulated, regulated,
    )  # fmt: skip


@rule("charge_coil_ohm")
def charge_coil_ohm(m: Machine) -> FloatArray:
    """Charging coil to its return; a million = open."""
    turns = np.clip(m.parameter("charge_coil_share"), 0.05, None)
    return winding_ohm(m.size("charge_coil_winding_ohm"), turns, m.parameter("charge_coil_open"))


@rule("charge_diode_ok")
def charge_diode_ok(m: Machine) -> FloatArray:
    """Diode passes one way and blocks the other, 1 yes to 0 no."""
    return 1.0 - m.parameter("charge_diode_open")


@rule("battery_goes_flat")
def battery_goes_flat(m: Machine) -> FloatArray:
    """No charge to speak of at the speed it should run, a drain, or a battery that no longer holds.

    An engine that does not run charges nothing either, but its owner speaks of the engine.
    """
    if m.trait("electric_start") == "no":
        return np.zeros(m.count)
    gain = _charge_v(m, _coil_vac(m, np.full(m.count, m.size("usual_top_rpm")))) - m.quantity("battery_rest_v")
    charged = step_up(gain, 0.25, 0.06) if m.trait("charging") != "none" else np.ones(m.count)
    drained = step_up(np.log(np.clip(m.parameter("drain_ma"), 1e-3, None) / constants.value("drain_flat_ma")), 0.0, 0.4)
    weak = np.maximum(m.parameter("battery_cell_dead"), step_up(np.log(m.parameter("battery_ohm") / 0.06), 0.0, 0.3))
    return 1.0 - charged * (1.0 - drained) * (1.0 - weak)


@rule("rest_drain_ma")
def rest_drain_ma(m: Machine) -> FloatArray:
    """Current drawn from the battery with the key off."""
    return m.parameter("drain_ma")
