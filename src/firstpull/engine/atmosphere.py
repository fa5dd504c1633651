"""The air of the day: pressure by altitude, density, humidity, and what it does to power."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
_EARTH_M = 6_356_766.0


def geopotential_m(altitude_m: float) -> float:
    """Geopotential altitude of a geometric one.

    Args:
        altitude_m: geometric altitude [m], scalar.

    Returns:
        Geopotential altitude [m], scalar.

    Valid: to 11 km.
    Source: ISO 2533:1975, nominal earth radius 6 356 766 m.
    """
    return _EARTH_M * altitude_m / (_EARTH_M + altitude_m)


def standard_temperature_k(altitude_m: float) -> float:
    """Temperature of the standard atmosphere.

    Args:
        altitude_m: geometric altitude [m], scalar.

    Returns:
        Temperature [K], scalar.

    Valid: -500 to 11000 m.
    Source: ISO 2533:1975, 288.15 K and -6.5 K/km of geopotential altitude.
    """
    return 288.15 - 0.0065 * geopotential_m(altitude_m)


def pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere.

    Args:
        altitude_m: geometric altitude [m], scalar.

    Returns:
        Pressure [Pa], scalar.

    Valid: -500 to 11000 m; the weather of the day moves it by about 2 %.
    Source: ISO 2533:1975.
    """
    return float(101325.0 * (standard_temperature_k(altitude_m) / 288.15) ** 5.25588)


def density(pressure_pa: float, temperature_k: float) -> float:
    """Density of dry air.

    Args:
        pressure_pa: absolute pressure [Pa], scalar.
        temperature_k: temperature [K], scalar.

    Returns:
        Density [kg/m3], scalar.

    Valid: ideal gas.
    Source: ISO 2533:1975, R = 287.05287 J/(kg K).
    """
    return pressure_pa / (287.05287 * temperature_k)


def vapour_pressure_pa(temperature_c: float) -> float:
    """Saturation pressure of water.

    Args:
        temperature_c: temperature [C], scalar.

    Returns:
        Pressure [Pa], scalar.

    Valid: -20 to 50 C over water.
    Source: Magnus formula with 611.2 Pa, 17.62, 243.12 C (Guide WMO-No. 8, from memory).
    """
    return float(611.2 * np.exp(17.62 * temperature_c / (243.12 + temperature_c)))


def dry_pressure_pa(pressure: float, temperature_c: float, humidity: float) -> float:
    """Pressure of the dry air in moist air.

    Args:
        pressure: absolute pressure [Pa], scalar.
        temperature_c: temperature [C], scalar.
        humidity: relative humidity [1], scalar.

    Returns:
        Dry pressure [Pa], scalar.

    Valid: humidity 0-1.
    Source: Dalton; Magnus formula for the vapour.
    """
    return pressure - humidity * vapour_pressure_pa(temperature_c)


def power_correction(dry_pa: float, temperature_c: float) -> float:
    """Factor from power measured today to power at 99 kPa dry and 25 C.

    Args:
        dry_pa: pressure of the dry air [Pa], scalar.
        temperature_c: air temperature [C], scalar.

    Returns:
        Correction factor [1], scalar.

    Valid: 0.93-1.07 by the standard; used wider here.
    Source: SAE J1349 (1990 form): 1.180 (990 mbar / dry pressure) sqrt(T / 298) - 0.18.
    """
    return float(1.18 * (99000.0 / dry_pa) * np.sqrt((temperature_c + 273.0) / 298.0) - 0.18)


def engine_power_ratio(
    pressure: float, temperature_k: float, mechanical_efficiency: float, pressure_power: float, temperature_power: float
) -> float:
    """Power today over power at 100 kPa and 298 K.

    Args:
        pressure: air pressure [Pa], scalar.
        temperature_k: air temperature [K], scalar.
        mechanical_efficiency: mechanical efficiency [1], scalar.
        pressure_power: exponent of the pressure ratio [1], scalar.
        temperature_power: exponent of the temperature ratio [1], scalar.

    Returns:
        Power ratio [1], scalar.

    Valid: naturally aspirated engines; exponents are not settled for these, so they are given.
    Source: ISO 3046-1, alpha = k - 0.7 (1 - k) (1/eta - 1), from memory.
    """
    k = (pressure / 100e3) ** pressure_power * (298.0 / temperature_k) ** temperature_power
    return float(k - 0.7 * (1.0 - k) * (1.0 / mechanical_efficiency - 1.0))
