"""The air of the day: directions and limits (published figures are with the outside checks)."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import atmosphere


@given(st.floats(-400.0, 5000.0), st.floats(1.0, 1000.0))
def test_higher_air_is_thinner_and_colder(altitude: float, more: float) -> None:
    assert atmosphere.pressure_pa(altitude + more) < atmosphere.pressure_pa(altitude)
    assert atmosphere.standard_temperature_k(altitude + more) < atmosphere.standard_temperature_k(altitude)


def test_geopotential_altitude_is_slightly_less() -> None:
    assert 2998.0 < atmosphere.geopotential_m(3000.0) < 3000.0


def test_wet_air_is_less_dry_air() -> None:
    assert atmosphere.dry_pressure_pa(1e5, 30.0, 0.8) < atmosphere.dry_pressure_pa(1e5, 30.0, 0.1) < 1e5


def test_thin_warm_air_asks_for_more_correction() -> None:
    assert atmosphere.power_correction(85e3, 35.0) > atmosphere.power_correction(99e3, 25.0)
    assert atmosphere.engine_power_ratio(85e3, 308.0, 0.8, 1.0, 0.5) < 1.0
