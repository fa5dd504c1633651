"""Wires cooling air and head temperature."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, cooling
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule

FloatArray = NDArray[np.float64]
_LOAD = {"none": 0.0, "half": 0.5, "full": 1.0}


@rule("cooling_share")
def _cooling(m: Machine) -> FloatArray:
    """Cooling left over that of clean fins."""
    missing = np.ones(m.count) if m.off("shroud") else m.parameter("cooling_shroud_missing")
    return cooling.air_share(
        m.parameter("fin_blockage"), m.parameter("air_screen_blockage"), missing, m.parameter("fan_vanes_lost")
    )


@rule("settled_head_c")
def _settled(m: Machine) -> FloatArray:
    """Head temperature at the load of the arrangement, once settled."""
    asked = _LOAD[m.load]
    asked *= m.size("rated_load_share")
    load = np.clip(asked * m.quantity("load_torque_share"), 0.0, 1.1) if asked > 0.0 else np.zeros(m.count)
    phi = m.quantity("run_mixture_phi")
    hottest = np.exp(-(((phi - 0.95) / 0.12) ** 2))
    rise = cooling.head_rise_k(
        m.size("rated_power_w"), m.size("cooling_w_per_k"), load, m.quantity("late_burn_share"), hottest,
        m.quantity("cooling_share"),
    )  # fmt: skip
    dry = constants.value("cooling_dry_oil_c") * (1.0 - m.quantity("oil_film_share").clip(0.0, 1.0))
    return m.conditions.air_c + rise + dry


@rule("head_c")
def _head(m: Machine) -> FloatArray:
    settled = m.quantity("settled_head_c")
    if m.thermal == "hot":
        return settled
    return m.conditions.air_c + constants.value("cooling_first_minute") * (settled - m.conditions.air_c)


@rule("hot_smell")
def _smell(m: Machine) -> FloatArray:
    return chance(
        m.quantity("settled_head_c"), constants.value("cooling_smell_c"), constants.value("cooling_smell_width_c")
    )


@rule("heat_fade")
def _fade(m: Machine) -> FloatArray:
    faded = chance(m.quantity("head_c"), constants.value("cooling_fade_c"), constants.value("cooling_fade_width_c"))
    return constants.value("cooling_fade_most") * faded


@rule("head_settle_min")
def _settle(m: Machine) -> FloatArray:
    return cooling.settle_minutes(m.size("head_mass_kg"), m.size("cooling_w_per_k"), m.quantity("cooling_share"))
