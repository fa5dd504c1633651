"""The air of the day against the standard atmosphere of two libraries and the power correction standards."""

from __future__ import annotations

import ambiance
import fluids
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI

from firstpull.engine import atmosphere


@pytest.mark.parametrize("altitude", [-300.0, 0.0, 500.0, 1000.0, 2000.0, 3000.0])
def test_pressure_and_temperature_follow_the_icao_table(altitude: float) -> None:
    # ambiance (ICAO Doc 7488, same figures as ISO 2533:1975), geometric altitude.
    table = ambiance.Atmosphere(altitude)
    assert atmosphere.pressure_pa(altitude) == pytest.approx(table.pressure[0], rel=1e-5)
    assert atmosphere.standard_temperature_k(altitude) == pytest.approx(table.temperature[0], abs=1e-3)


@pytest.mark.parametrize(("altitude", "kg_m3"), [(0.0, 1.2250), (1000.0, 1.1117), (2000.0, 1.0066), (3000.0, 0.9093)])
def test_density_follows_the_us_standard_atmosphere(altitude: float, kg_m3: float) -> None:
    # U.S. Standard Atmosphere 1976 (fluids.ATMOSPHERE_1976), identical with ISO 2533 here.
    ours = atmosphere.density(atmosphere.pressure_pa(altitude), atmosphere.standard_temperature_k(altitude))
    assert ours == pytest.approx(fluids.ATMOSPHERE_1976(altitude).rho, rel=2e-4)
    assert ours == pytest.approx(kg_m3, rel=2e-4)


@pytest.mark.parametrize(("altitude", "richer"), [(1500.0, 1.076), (3000.0, 1.161)])
def test_a_fixed_jet_runs_richer_as_the_root_of_density(altitude: float, richer: float) -> None:
    # Arithmetic on ISO 2533 densities: sqrt(rho0 / rho).
    thin = atmosphere.density(atmosphere.pressure_pa(altitude), atmosphere.standard_temperature_k(altitude))
    assert (1.225 / thin) ** 0.5 == pytest.approx(richer, abs=1e-3)


@pytest.mark.parametrize("celsius", [0.5, 10.0, 25.0, 40.0])
def test_vapour_pressure_follows_the_steam_tables(celsius: float) -> None:
    # CoolProp water (IAPWS-95).
    steam = PropsSI("P", "T", celsius + 273.15, "Q", 1, "Water")
    assert atmosphere.vapour_pressure_pa(celsius) == pytest.approx(steam, rel=5e-3)


def test_dry_pressure_of_moist_air() -> None:
    # CoolProp humid air (ASHRAE RP-1485): partial pressure of water at 30 C, 60 %.
    wet = HAPropsSI("P_w", "T", 303.15, "P", 99000.0, "R", 0.6)
    assert atmosphere.dry_pressure_pa(99000.0, 30.0, 0.6) == pytest.approx(99000.0 - wet, rel=5e-4)


@pytest.mark.parametrize(("dry_pa", "celsius", "factor"), [
    (99000.0, 25.0, 1.000), (83500.0, 30.0, 1.2307), (101325.0, 15.0, 0.9534),
])  # fmt: skip
def test_power_correction_of_sae_j1349(dry_pa: float, celsius: float, factor: float) -> None:
    # SAE J1349 (1990 form, read in a public post); the numbers are arithmetic on it.
    assert atmosphere.power_correction(dry_pa, celsius) == pytest.approx(factor, abs=1e-3)


def test_power_ratio_of_iso_3046() -> None:
    # ISO 3046-1 (formula from memory): k = 0.9, mechanical efficiency 0.8 gives 0.8825.
    assert atmosphere.engine_power_ratio(90e3, 298.0, 0.8, 1.0, 0.5) == pytest.approx(0.8825, abs=1e-9)
