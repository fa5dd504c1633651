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
    if m.trait("charging") == "none":
        return np.zeros(m.count)
    return charging.coil_vac(
        m.size("charge_coil_full_vac"), m.quantity("top_rpm"), m.parameter("charge_coil_share"),
        m.parameter("charge_coil_open"),
    )  # fmt: skip


@rule("charge_v")
def charge_v(m: Machine) -> FloatArray:
    """Battery posts with the engine running fast."""
    regulated = m.trait("charging") == "regulated"
    passes = 1.0 - m.parameter("charge_diode_open")
    if regulated:
        passes = passes * (1.0 - m.parameter("charge_regulator_dead"))
    return charging.charge_v(
        m.quantity("battery_rest_v"), m.quantity("charge_coil_vac"), passes, m.parameter("charge_regulator_over"),
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
    """No charge to speak of, a drain, or a battery that no longer holds."""
    if m.trait("electric_start") == "no":
        return np.zeros(m.count)
    gain = m.quantity("charge_v") - m.quantity("battery_rest_v")
    charged = step_up(gain, 0.25, 0.06) if m.trait("charging") != "none" else np.ones(m.count)
    drained = step_up(np.log(np.clip(m.parameter("drain_ma"), 1e-3, None) / constants.value("drain_flat_ma")), 0.0, 0.4)
    weak = np.maximum(m.parameter("battery_cell_dead"), step_up(np.log(m.parameter("battery_ohm") / 0.06), 0.0, 0.3))
    return 1.0 - charged * (1.0 - drained) * (1.0 - weak)


@rule("rest_drain_ma")
def rest_drain_ma(m: Machine) -> FloatArray:
    """Current drawn from the battery with the key off."""
    return m.parameter("drain_ma")
