"""Wires the water pump."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, pump
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


@rule("pump_suction_kpa")
def pump_suction_kpa(m: Machine) -> FloatArray:
    """Suction that the pump draws against a closed inlet at speed."""
    pace = np.clip(m.quantity("loaded_rpm") / m.size("usual_top_rpm"), 0.0, 1.2) ** 2
    turned = (1.0 - m.parameter("shear_pin_gone")) * m.quantity("belt_grip")
    full = pump.pump_suction_kpa(
        m.parameter("impeller_wear"), m.parameter("pump_air_leak_mm2"), m.parameter("pump_dry"),
        m.parameter("pump_valve_leak"),
    )  # fmt: skip
    return full * np.minimum(pace, 1.0) * turned


@rule("pump_prime_s")
def pump_prime_s(m: Machine) -> FloatArray:
    """Time until water comes; 600 = did not prime in ten minutes."""
    return pump.prime_time_s(
        m.size("pump_prime_clean_s"), m.quantity("pump_suction_kpa"), m.parameter("suction_hose_open")
    )


@rule("pump_flow_share")
def pump_flow_share(m: Machine) -> FloatArray:
    """Water delivered over that of a sound pump."""
    limit = constants.value("prime_limit_s")
    primed = 1.0 - step_up(m.quantity("pump_prime_s"), 0.9 * limit, 0.03 * limit)
    able = 1.0 - constants.value("impeller_wear_loss") * m.parameter("impeller_wear")
    air = 1.0 / (1.0 + m.parameter("pump_air_leak_mm2") / 8.0)
    return primed * able * air * np.sqrt(np.clip(m.parameter("suction_hose_open"), 0.0, 1.0))


@rule("pump_pressure_kpa")
def pump_pressure_kpa(m: Machine) -> FloatArray:
    """Working pressure over what is normal for the class, as pressure."""
    stuck = 1.0 - 0.85 * m.parameter("unloader_stuck")
    pace = np.clip(m.quantity("loaded_rpm") / m.size("usual_top_rpm"), 0.0, 1.2) ** 2
    return m.size("pump_working_kpa") * m.quantity("pump_flow_share") * stuck * pace


@rule("no_water")
def no_water(m: Machine) -> FloatArray:
    """Chance that people would say it gives no water."""
    if m.trait("driven_load") not in ("pump", "washer"):
        return np.zeros(m.count)
    share = m.quantity("pump_pressure_kpa") / m.size("pump_working_kpa")
    return 1.0 - step_up(share, 0.35, 0.06)
