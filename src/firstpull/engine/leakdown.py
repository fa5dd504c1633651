"""Leak-down tester: two openings in series, and where the air goes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.orifice import (
    AIR_GAS_CONSTANT,
    CRITICAL,
    exact_flow_factor,
    flow_factor,
    mass_flow,
)

FloatArray = NDArray[np.float64]
_HALVINGS = 26


def cylinder_pressure(
    leak_over_reference: FloatArray, supply_pa: FloatArray, ambient_pa: FloatArray, exact: bool = False
) -> FloatArray:
    """Pressure that stands in the cylinder when the reference opening feeds the leak.

    Args:
        leak_over_reference: effective leak area over effective reference area [1], shape (N,).
        supply_pa: absolute supply pressure [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        exact: isentropic law in place of the ellipse [1], scalar.

    Returns:
        Absolute pressure in the cylinder [Pa], shape (N,).

    Valid: supply 1.2-10 bar absolute, any ratio; both openings at one temperature.
    Source: continuity through two nozzles; ISO 6358-1:2013 for the flow of each.
    """
    law = exact_flow_factor if exact else flow_factor
    low, high = ambient_pa.astype(np.float64), supply_pa.astype(np.float64)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        surplus = supply_pa * law(middle / supply_pa) - leak_over_reference * middle * law(ambient_pa / middle)
        low = np.where(surplus > 0.0, middle, low)
        high = np.where(surplus > 0.0, high, middle)
    return np.asarray(0.5 * (low + high))


def closed_form_ratio(leak_over_reference: FloatArray) -> FloatArray:
    """Cylinder over supply pressure when the leak is choked and the reference is not.

    Args:
        leak_over_reference: effective leak area over effective reference area [1], shape (N,).

    Returns:
        Cylinder pressure over supply pressure [1], shape (N,).

    Valid: cylinder above 1.9 times ambient and above 0.528 of supply.
    Source: positive root of the quadratic that the ellipse of ISO 6358-1:2013 gives.
    """
    k = 1.0 / (1.0 - CRITICAL) ** 2
    a = leak_over_reference**2 + k
    half = CRITICAL * k
    return np.asarray((half + np.sqrt(half**2 - a * (CRITICAL**2 * k - 1.0))) / a)


def reading_percent(cylinder_pa: FloatArray, supply_pa: FloatArray, ambient_pa: FloatArray) -> FloatArray:
    """What the second needle shows, as pressure lost.

    Args:
        cylinder_pa: absolute pressure in the cylinder [Pa], shape (N,).
        supply_pa: absolute supply pressure [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).

    Returns:
        Reading [%], shape (N,).

    Valid: gauges zeroed at ambient.
    Source: definition of a differential pressure test.
    """
    return np.asarray(100.0 * (supply_pa - cylinder_pa) / (supply_pa - ambient_pa))


def free_air(
    area_mm2: FloatArray, cylinder_pa: FloatArray, ambient_pa: FloatArray, ambient_k: FloatArray
) -> FloatArray:
    """Free air that escapes through one place.

    Args:
        area_mm2: effective area of that place [mm2], shape (N,).
        cylinder_pa: absolute pressure in the cylinder [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        ambient_k: ambient temperature [K], shape (N,).

    Returns:
        Flow at ambient state [L/min], shape (N,).

    Valid: test air at room temperature.
    Source: ISO 6358-1:2013 for the mass flow; ideal gas for the volume.
    """
    flow = mass_flow(area_mm2, cylinder_pa, ambient_k, ambient_pa)
    return np.asarray(flow * AIR_GAS_CONSTANT * ambient_k / ambient_pa * 60e3)


def crank_torque(
    cylinder_pa: FloatArray, ambient_pa: FloatArray, piston_m2: float, stroke_m: float, off_deg: float
) -> FloatArray:
    """Torque with which the test air swings the crank off dead centre.

    Args:
        cylinder_pa: absolute pressure in the cylinder [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        piston_m2: area of the piston [m2], scalar.
        stroke_m: stroke [m], scalar.
        off_deg: crank angle off top dead centre [deg], scalar.

    Returns:
        Torque [N.m], shape (N,).

    Valid: crank to rod about 0.28; friction left out.
    Source: slider-crank identity.
    """
    th = np.deg2rad(off_deg)
    lean = 0.28 * np.sin(th)
    arm = stroke_m / 2.0 * np.sin(th) * (1.0 + 0.28 * np.cos(th) / np.sqrt(1.0 - lean**2))
    return np.asarray((cylinder_pa - ambient_pa) * piston_m2 * arm)
