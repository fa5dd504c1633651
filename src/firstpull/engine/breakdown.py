"""What voltage a gap asks for before it breaks down."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def air_density_ratio(pressure_kpa: FloatArray, temperature_k: FloatArray) -> FloatArray:
    """Density of the charge over that of air at 20 C and 101.325 kPa.

    Args:
        pressure_kpa: absolute pressure [kPa], shape (N,).
        temperature_k: temperature [K], shape (N,).

    Returns:
        Density ratio [1], shape (N,).

    Valid: ideal gas; fuel vapour counted as air.
    Source: Peek, Dielectric Phenomena in High Voltage Engineering (1915), relative air density.
    """
    return (pressure_kpa / 101.325) * (293.15 / temperature_k)


def uniform_field_kv(gap_mm: FloatArray, density: FloatArray) -> FloatArray:
    """Peak breakdown voltage of air between flat electrodes.

    Args:
        gap_mm: gap [mm], shape (N,).
        density: density ratio of the gas [1], shape (N,).

    Returns:
        Breakdown voltage [kV], shape (N,).

    Valid: density times gap of 0.05 to 10 cm; below about 0.1 mm in free air it reads low (Paschen minimum).
    Source: Bazelyan, Raizer, Spark Discharge (1998), 24.22 x + 6.08 sqrt(x) for x = density times gap in cm (quoted
        second-hand). A function of density times gap only, as Paschen's law asks.
    """
    product = density * gap_mm * 0.1
    return constants.value("breakdown_per_cm_kv") * product + constants.value("breakdown_per_root_cm_kv") * np.sqrt(
        product
    )


def rounded_tips_kv(gap_mm: FloatArray, density: FloatArray, tip_radius_mm: FloatArray) -> FloatArray:
    """Peak breakdown voltage between two equal rounded tips or spheres.

    Args:
        gap_mm: gap [mm], shape (N,).
        density: density ratio of the gas [1], shape (N,).
        tip_radius_mm: radius of each tip [mm], shape (N,).

    Returns:
        Breakdown voltage [kV], shape (N,).

    Valid: gap above 0.54 sqrt(radius), both in cm; gap up to about ten radii.
    Source: Peek, Dielectric Phenomena in High Voltage Engineering (1915), sphere-gap form, ungrounded.
    """
    radius = tip_radius_mm * 0.1
    gap = gap_mm * 0.1
    ratio = gap / radius
    crowding = 0.25 * (ratio + 1.0 + np.sqrt((ratio + 1.0) ** 2 + 8.0))
    return 27.2 * density * (1.0 + 0.54 / np.sqrt(density * radius)) * gap / crowding


def asked_kv(gap_mm: FloatArray, density: FloatArray, shape: FloatArray) -> FloatArray:
    """What a plug or tester gap asks for.

    Args:
        gap_mm: gap [mm], shape (N,).
        density: density ratio of the gas [1], shape (N,).
        shape: voltage over that of a uniform field, sharp edges below 1 [1], shape (N,).

    Returns:
        Breakdown voltage, never less than the Paschen minimum of air [kV], shape (N,).

    Valid: as `uniform_field_kv`; shape 0.35 (needles) to 1.1 (worn round).
    Source: uniform-field law times a shape factor (judgement); Paschen minimum of air 0.327 kV (tabulated,
        second-hand).
    """
    return np.maximum(shape * uniform_field_kv(gap_mm, density), constants.value("paschen_minimum_kv"))


def air_pressure_kpa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere.

    Args:
        altitude_m: height above the sea [m], scalar.

    Returns:
        Pressure [kPa], scalar.

    Valid: 0 to 11,000 m.
    Source: ISO 2533:1975, standard atmosphere, troposphere.
    """
    return float(101.325 * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588)
