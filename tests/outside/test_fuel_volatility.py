"""Volatility of petrol against flashes of a model petrol with other people's saturation pressures, and a paper."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from numpy.typing import NDArray
from scipy.optimize import brentq

from firstpull.engine import constants, fuel

FloatArray = NDArray[np.float64]
# A model petrol by mass. Isooctane is not in the library: heptane boils within a degree of it (98.4 and 99.2 C) and
# stands for it. The shares are ours, chosen for a vapour pressure of an ordinary summer petrol.
PARTS = {
    "n-Butane": 0.055, "Isopentane": 0.10, "n-Pentane": 0.06, "Isohexane": 0.09, "n-Hexane": 0.07, "n-Heptane": 0.26,
    "Toluene": 0.15, "m-Xylene": 0.115, "n-Nonane": 0.04, "n-Decane": 0.06,
}  # fmt: skip
MOLAR = np.array([PropsSI("M", name) for name in PARTS])
FRESH = np.array(list(PARTS.values())) / sum(PARTS.values())
WARM_37_8 = 310.95


def saturation_pa(kelvin: float) -> FloatArray:
    return np.array([PropsSI("P", "T", kelvin, "Q", 0, name) for name in PARTS])


def vapour_kpa(mass: FloatArray, kelvin: float) -> float:
    moles = mass / MOLAR
    return float(np.sum(moles / moles.sum() * saturation_pa(kelvin)) / 1e3)


def evaporated(mass: FloatArray, air_to_fuel: float, kelvin: float) -> float:
    """Share of the mass that is vapour beside this much air at one atmosphere, by Raoult's law."""
    moles, air = mass / MOLAR, air_to_fuel / 0.02897
    ratio = saturation_pa(kelvin) / 101325.0

    def liquid_of(total: float) -> FloatArray:
        return np.asarray(moles / (total + (moles.sum() - total + air) * ratio))

    if float(liquid_of(1e-9).sum()) < 1.0:
        return 1.0
    total = brentq(lambda liquid: float(liquid_of(liquid).sum()) - 1.0, 1e-9, moles.sum())
    return float(1.0 - np.sum(liquid_of(total) * total * MOLAR))


def weathered(lost: float) -> FloatArray:
    """The petrol after this share of its mass has evaporated from a well stirred dish at 25 C."""
    mass, left = FRESH.copy(), 1.0
    pressure = saturation_pa(298.15)
    while left > 1.0 - lost:
        going = mass / MOLAR * pressure * MOLAR
        mass = np.maximum(mass * left - 0.002 * going / going.sum(), 0.0)
        left = float(mass.sum())
        mass = mass / left
    return mass


def test_the_library_knows_pentane() -> None:
    # 15.57 psi at 100 F for n-pentane (GPSA Engineering Data Book, from memory): 107.4 kPa.
    assert PropsSI("P", "T", WARM_37_8, "Q", 0, "n-Pentane") / 1e3 == pytest.approx(107.4, abs=0.5)


def test_the_model_petrol_has_an_ordinary_vapour_pressure() -> None:
    # 45-90 kPa over the year (EN 228 classes, from memory).
    assert 55.0 < vapour_kpa(FRESH, WARM_37_8) < 75.0


@pytest.mark.parametrize("lost", [0.0, 0.1, 0.3, 0.5])
@pytest.mark.parametrize("celsius", [-10.0, 5.0, 20.0, 35.0])
@pytest.mark.parametrize("air_to_fuel", [2.4, 4.0, 7.3, 12.2])
def test_vapour_at_the_start_agrees_with_equilibrium_flashes(lost: float, celsius: float, air_to_fuel: float) -> None:
    mass = weathered(lost)
    rvp, supply = np.array([vapour_kpa(mass, WARM_37_8)]), np.array([14.6 / air_to_fuel])
    ours = fuel.evaporated_share(supply, np.array([celsius]), rvp, 101.325)[0]
    assert ours == pytest.approx(evaporated(mass, air_to_fuel, 273.15 + celsius), abs=0.07)


@pytest.mark.parametrize("lost", [0.05, 0.1, 0.2, 0.3, 0.5])
def test_weathering_lies_between_the_stirred_and_the_open_dish_bound(lost: float) -> None:
    stirred = vapour_kpa(weathered(lost), WARM_37_8) / vapour_kpa(FRESH, WARM_37_8)
    open_dish = (1.0 - lost) ** 0.69  # power through the end point of Zhu et al. 2012
    assert stirred * 0.98 < fuel.volatility_left(np.array([lost]))[0] < open_dish


def test_three_hundred_days_in_an_open_dish() -> None:
    # Zhu et al. 2012, Fuel: 93 RON petrol, 86.36 % of the mass lost, 38 to 9.6 kPa (abstract). A well stirred ideal
    # mixture falls to 1-2 kPa; ours must lie between.
    left = 38.0 * fuel.volatility_left(np.array([0.8636]))[0]
    assert 38.0 * vapour_kpa(weathered(0.8636), WARM_37_8) / vapour_kpa(FRESH, WARM_37_8) < left < 9.6


def test_vapour_pressure_rises_with_warmth_as_the_model_petrol_does() -> None:
    there = vapour_kpa(FRESH, 323.15) / vapour_kpa(FRESH, 293.15)
    ours = np.exp(30.0 * constants.value("vapour_pressure_slope"))
    assert ours == pytest.approx(there, rel=0.12)


@pytest.mark.parametrize("bowls", [0.2, 0.5, 1.0, 2.0, 5.0, 9.0])
def test_a_bowl_that_is_topped_up_while_it_dries_keeps_the_heavy_end(bowls: float) -> None:
    # The model petrol in a stirred bowl at 25 C: what the vent takes the needle brings, straight from the tank.
    mass, pressure, step = FRESH.copy(), saturation_pa(298.15), 0.002
    for _ in range(round(bowls / step)):
        going = mass / MOLAR * pressure * MOLAR
        mass = mass - step * going / going.sum() + step * FRESH
    days = constants.value("in_use_d") + bowls * constants.value("bowl_dries_d")
    lost = fuel.bowl_lost_share(np.array([days]))
    assert lost[0] == pytest.approx(bowls / (1.0 + bowls))
    left = vapour_kpa(mass, WARM_37_8) / vapour_kpa(FRESH, WARM_37_8)
    assert left / 1.7 < fuel.volatility_left(lost)[0] < left * 1.7
