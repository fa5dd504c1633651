"""Whether the burn beats the turning mass before top dead centre."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.compression import Geometry, swept
from firstpull.engine.orifice import AIR_GAS_CONSTANT

FloatArray = NDArray[np.float64]
_STEPS = 12


def burn_work_before_top(
    geometry: Geometry,
    clearance_m3: FloatArray,
    spark_deg: FloatArray,
    spark_pa: FloatArray,
    spark_k: FloatArray,
    burn_deg: FloatArray,
    heat_j_kg: FloatArray,
    ambient_pa: FloatArray,
    steps: int = _STEPS,
) -> FloatArray:
    """Work that the charge takes from the crank between spark and top dead centre, burning.

    Args:
        geometry: cylinder of the class [m3, m, 1], scalar.
        clearance_m3: clearance volume [m3], shape (N,).
        spark_deg: spark before top dead centre [deg], shape (N,).
        spark_pa: pressure at the spark [Pa], shape (N,).
        spark_k: temperature at the spark [K], shape (N,).
        burn_deg: burn duration at this speed [deg], shape (N,).
        heat_j_kg: heat of the charge [J/kg], shape (N,).
        ambient_pa: ambient pressure [Pa], shape (N,).
        steps: steps from spark to top [1], scalar.

    Returns:
        Work, zero when the spark comes after top [J], shape (N,).

    Valid: spark 0-90 deg before top; heat loss and leaks of this short time left out.
    Source: single-zone energy balance with a Wiebe function, a = 5, m = 2 (Heywood 1988, ch. 9, from memory).
    """
    start = np.clip(spark_deg, 0.0, 120.0)
    before = clearance_m3 + swept(start, geometry)
    mass = spark_pa * before / (AIR_GAS_CONSTANT * spark_k)
    heat = mass * heat_j_kg
    p, burnt_before = spark_pa, np.zeros_like(spark_pa)
    work = np.zeros_like(spark_pa)
    for k in range(1, steps + 1):
        angle = start * (1.0 - k / steps)
        now = clearance_m3 + swept(angle, geometry)
        burnt = 1.0 - np.exp(-5.0 * np.clip((start - angle) / burn_deg, 0.0, None) ** 3)
        gamma = 1.35 - 0.08 * burnt
        # Heat is taken in at the mean volume of the step, so that few steps suffice.
        squeezed = p * np.exp(0.5 * gamma * np.log(before / now))
        middle = np.sqrt(before * now)
        squeezed = squeezed + (gamma - 1.0) * heat * (burnt - burnt_before) / middle
        new = squeezed * np.exp(0.5 * gamma * np.log(before / now))
        mean = (p + new + 4.0 * np.sqrt(p * new)) / 6.0
        work = work + (mean - ambient_pa) * (before - now)
        p, before, burnt_before = new, now, burnt
    return np.asarray(np.where(spark_deg > 0.0, np.maximum(work, 0.0), 0.0))


def kick_ratio(
    work_j: FloatArray,
    inertia_kgm2: FloatArray,
    speed_rpm: FloatArray,
    spent_j: FloatArray,
    hand_nm: FloatArray,
    spark_deg: FloatArray,
) -> FloatArray:
    """Work of the burn before top over what carries the crank past it.

    Args:
        work_j: work taken between spark and top [J], shape (N,).
        inertia_kgm2: all that turns rigidly with the crank [kg.m2], shape (N,).
        speed_rpm: mean crank speed of the pull [rpm], shape (N,).
        spent_j: work that compression has already taken by the time of the spark [J], shape (N,).
        hand_nm: torque of the hand on the rope [N.m], shape (N,).
        spark_deg: spark before top dead centre [deg], shape (N,).

    Returns:
        Ratio, above 1 it kicks [1], shape (N,).

    Valid: rope tension taken as steady; scatter from burn to burn is left out.
    Source: energy balance; identity.
    """
    mean = 0.5 * inertia_kgm2 * (speed_rpm * np.pi / 30.0) ** 2
    turning = np.maximum(mean - spent_j, 0.25 * mean)  # the hand makes up for the rest of what compression takes
    pulled = hand_nm * np.deg2rad(np.clip(spark_deg, 0.0, 120.0))
    return np.asarray(work_j / np.maximum(turning + pulled, 1e-3))
