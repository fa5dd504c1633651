"""Wires oil, its smoke, and the noises of what it keeps apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, lubrication
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]
_HOT_MINUTES = 10.0


def _in_fuel(m: Machine) -> bool:
    return m.size("oil_capacity_cm3") <= 0.0


def _level(m: Machine) -> FloatArray:
    return np.full(m.count, -60.0) if m.off("oil") else m.parameter("oil_level_mm")


@rule("oil_level_reading_mm")
def _reading(m: Machine) -> FloatArray:
    return _level(m)


@rule("oil_thickness")
def _thickness(m: Machine) -> FloatArray:
    """Viscosity over the right one."""
    return lubrication.viscosity_share(
        m.parameter("oil_viscosity_ratio"), m.parameter("oil_fuel_share"), m.parameter("oil_water_share")
    )


def _oil_ratio(m: Machine) -> FloatArray:
    """Oil in the fuel over what is wanted."""
    return m.parameter("oil_in_fuel_share") / max(m.size("right_oil_share"), 0.005)


@rule("oil_film_share")
def _film(m: Machine) -> FloatArray:
    if _in_fuel(m):
        return np.minimum(_oil_ratio(m), 1.2) / (1.0 + 4.0 * np.maximum(m.parameter("rod_play_mm") - 0.06, 0.0))
    return lubrication.film_share(m.quantity("oil_thickness"), _level(m), m.parameter("rod_play_mm"))


@rule("oil_burnt")
def _burnt(m: Machine) -> FloatArray:
    if _in_fuel(m):
        return 0.25 * _oil_ratio(m) * m.size("displacement_cm3") / 160.0
    return lubrication.burnt_ml_min(
        places.rings(m, False, cranking=True), m.parameter("guide_wear_mm"), places.joint(m, "gallery"),
        -m.quantity("crankcase_vacuum_kpa"), _level(m), m.quantity("oil_thickness"), m.size("displacement_cm3") * 1e-6,
    )  # fmt: skip


@rule("blue_smoke")
def _blue(m: Machine) -> FloatArray:
    scaled = m.quantity("oil_burnt") * 160.0 / m.size("displacement_cm3")
    half = constants.value("oil_blue_ml_min") * (1.7 if _in_fuel(m) else 1.0)
    return chance(scaled, half, constants.value("oil_blue_width_ml_min"))


@rule("white_smoke")
def _white(m: Machine) -> FloatArray:
    gone = _HOT_MINUTES * constants.value("oil_boil_cm3_min") if places.hot(m) else 0.0
    lying = np.maximum(m.parameter("muffler_oil_cm3") - gone, 0.0)
    cloud = chance(lying, constants.value("oil_white_cm3"), constants.value("oil_white_width_cm3"))
    steam = chance(m.parameter("oil_water_share"), 0.08, 0.02)
    wet = chance(m.parameter("cylinder_water_cm3"), 1.0, 0.2)
    return 1.0 - (1.0 - cloud) * (1.0 - steam) * (1.0 - wet)


@rule("smoke_puff_at_start")
def _puff(m: Machine) -> FloatArray:
    guide = chance(m.parameter("guide_wear_mm"), constants.value("oil_puff_mm"), constants.value("oil_puff_width_mm"))
    return places.has_valves(m) * guide


@rule("smoke_clears_min")
def _clears(m: Machine) -> FloatArray:
    return m.parameter("muffler_oil_cm3") / constants.value("oil_boil_cm3_min")


@rule("oil_on_plug")
def _on_plug(m: Machine) -> FloatArray:
    if _in_fuel(m):
        burnt = 0.15 * np.maximum(_oil_ratio(m) - 1.3, 0.0)
    else:
        burnt = m.quantity("oil_burnt") * 160.0 / m.size("displacement_cm3") / 0.8
    return -np.expm1(-(burnt + m.parameter("cylinder_oil_cm3") / 3.0))


@rule("rod_knock")
def _knock(m: Machine) -> FloatArray:
    half, width = constants.value("oil_knock_mm"), constants.value("oil_knock_width_mm")
    rod = chance(m.parameter("rod_play_mm"), half, width)
    main = chance(m.parameter("main_bearing_play_mm"), 1.2 * half, width)
    return 1.0 - (1.0 - rod) * (1.0 - main) * (1.0 - 0.8 * m.parameter("flywheel_play"))


@rule("squeal")
def _squeal(m: Machine) -> FloatArray:
    half, width = constants.value("oil_squeal_film"), constants.value("oil_squeal_width")
    dry = chance(-m.quantity("oil_film_share"), -half, width)
    return 1.0 - (1.0 - dry) * (1.0 - chance(m.parameter("seizure"), 0.25, 0.05))


@rule("rattle")
def _rattle(m: Machine) -> FloatArray:
    loose = chance(m.parameter("rod_play_mm"), 0.9, 0.1)
    quiet = (1.0 - m.parameter("foreign_object_damage")) * (1.0 - m.parameter("rod_broken")) * (1.0 - loose)
    return 1.0 - quiet
