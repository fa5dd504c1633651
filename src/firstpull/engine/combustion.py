"""The burn: a single zone with a Wiebe heat release, followed finely, and the fast laws that are tested against it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.compression import Geometry, swept
from firstpull.engine.orifice import AIR_GAS_CONSTANT, flow_factor

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fired:
    """What a fired cycle gives, shape (N,): work [J], mean effective pressure [Pa], peak [Pa], its place [deg]."""

    work_j: FloatArray
    indicated_pa: FloatArray
    peak_pa: FloatArray
    peak_after_deg: FloatArray
    exhaust_k: FloatArray


def laminar_speed(phi: FloatArray, residual: FloatArray) -> FloatArray:
    """Laminar burning speed of petrol vapour at room state, diluted by burnt gas.

    Args:
        phi: fuel-air ratio over the chemically right one [1], shape (N,).
        residual: mole share of burnt gas in the charge [1], shape (N,).

    Returns:
        Burning speed, floored at a twentieth of its best [m/s], shape (N,).

    Valid: phi 0.8-1.5 as published, wider by the floor; residual below 0.3.
    Source: form of Metghalchi & Keck, Combustion and Flame 48 (1982) 191; numbers for petrol from memory.
    """
    best, curve, top = 0.305, 0.549, 1.21
    speed = best - curve * (phi - top) ** 2
    return np.asarray(np.maximum(speed, best / 20.0) * np.maximum(1.0 - 2.1 * residual, 0.1))


def burn_duration(phi: FloatArray, residual: FloatArray, speed_rpm: FloatArray, burn_ratio: FloatArray) -> FloatArray:
    """Crank angle from spark to burnt out.

    Args:
        phi: fuel-air ratio over the chemically right one [1], shape (N,).
        residual: burnt gas in the charge [1], shape (N,).
        speed_rpm: crank speed [rpm], shape (N,).
        burn_ratio: burning speed of this chamber over a usual one [1], shape (N,).

    Returns:
        Burn duration [deg], shape (N,).

    Valid: 200-10000 rpm.
    Source: judgement: turbulence grows with speed, so duration in degrees hardly does; 55 deg at 3000 rpm.
    """
    usual = laminar_speed(np.ones(1), np.full(1, 0.08))
    slower = (usual / (laminar_speed(phi, residual) * burn_ratio)) ** 0.8
    return np.asarray(constants.value("combustion_burn_deg") * slower * (speed_rpm / 3000.0) ** 0.25)


def heat_per_kg(phi: FloatArray, residual: FloatArray) -> FloatArray:
    """Heat that a kilogram of charge gives when it burns out.

    Args:
        phi: fuel-air ratio over the chemically right one [1], shape (N,).
        residual: burnt gas in the charge [1], shape (N,).

    Returns:
        Heat of the charge [J/kg], shape (N,).

    Valid: phi 0.5-2; rich charge burns only what its air allows.
    Source: lower heating value 43.4 MJ/kg and air-fuel ratio 14.6 of petrol (Heywood 1988, appendix D, from memory).
    """
    fuel = phi / (14.6 + phi)
    return np.asarray(43.4e6 * fuel * 0.97 / np.maximum(phi, 1.0) * (1.0 - residual))


def fired_cycle(
    geometry: Geometry,
    clearance_m3: FloatArray,
    begin_deg: FloatArray,
    spark_deg: FloatArray,
    burn_deg: FloatArray,
    heat_j_kg: FloatArray,
    speed_rpm: FloatArray,
    leak_mm2: FloatArray,
    inlet_pa: FloatArray,
    inlet_k: FloatArray,
    ambient_pa: FloatArray,
    step_deg: float = 1.0,
) -> Fired:
    """Follow compression, burn and expansion finely; slow, and the measure for the fast laws.

    Args:
        geometry: cylinder of the class [m3, m, 1], scalar.
        clearance_m3: clearance volume [m3], shape (N,).
        begin_deg: closing of the cylinder before top dead centre [deg], shape (N,).
        spark_deg: spark before top dead centre [deg], shape (N,).
        burn_deg: burn duration [deg], shape (N,).
        heat_j_kg: heat of the charge [J/kg], shape (N,).
        speed_rpm: crank speed [rpm], shape (N,).
        leak_mm2: effective leak area [mm2], shape (N,).
        inlet_pa: pressure trapped [Pa], shape (N,).
        inlet_k: temperature trapped [K], shape (N,).
        ambient_pa: ambient pressure [Pa], shape (N,).
        step_deg: step of the integration [deg], scalar.

    Returns:
        Work, mean effective pressure, peak and its place, temperature when the exhaust opens [J, Pa, deg, K],
        shape (N,).

    Valid: 200-10000 rpm; expansion is followed to the same angle after as compression before.
    Source: single-zone energy balance with a Wiebe function, a = 5, m = 2 (Heywood 1988, ch. 9, from memory); wall
        heat by a fixed coefficient (judgement).
    """
    shape = spark_deg.shape
    p, mass = np.broadcast_to(inlet_pa, shape).copy(), np.zeros(shape)
    volume = clearance_m3 + swept(begin_deg, geometry)
    mass = p * volume / (AIR_GAS_CONSTANT * inlet_k)
    heat = mass * heat_j_kg
    work, peak, place, exhaust = np.zeros(shape), p.copy(), np.full(shape, -180.0), np.full(shape, 1.0) * inlet_k
    before, burnt_before = volume, np.zeros(shape)
    for angle in np.arange(-180.0 + step_deg, 180.0 + step_deg / 2, step_deg):
        open_ = np.abs(angle) < begin_deg
        now = np.where(open_, clearance_m3 + swept(np.abs(np.full(shape, angle)), geometry), before)
        burnt = _wiebe((angle + spark_deg) / burn_deg)
        temperature = p * before / (mass * AIR_GAS_CONSTANT)
        gamma = 1.35 - 0.08 * burnt
        area = 2.0 * geometry.piston_m2 + 4.0 * now / geometry.bore_m
        dt = step_deg / (6.0 * speed_rpm)
        cooled = constants.value("combustion_wall_w_m2k") * area * (temperature - 430.0) * dt
        leaked = leak_mm2 * 1e-6 * p / np.sqrt(AIR_GAS_CONSTANT * temperature) * flow_factor(ambient_pa / p) * dt
        leaked = np.where(open_, leaked, 0.0)
        added = (gamma - 1.0) * (heat * (burnt - burnt_before) * (mass / (mass + leaked)) - cooled) / (p * before)
        added = np.where(open_, added, 0.0)
        new = p * np.exp(-gamma * np.log(now / before) - gamma * leaked / mass + added)
        work = work + ((new + p) / 2.0 - ambient_pa) * (now - before)
        mass = mass - leaked
        place = np.where(new > peak, angle, place)
        peak = np.maximum(peak, new)
        exhaust = np.where(open_, new * now / (mass * AIR_GAS_CONSTANT), exhaust)
        p, before, burnt_before = new, now, burnt
    return Fired(work, work / geometry.displacement_m3, peak, place, exhaust)


def _wiebe(share: FloatArray) -> FloatArray:
    return np.asarray(1.0 - np.exp(-5.0 * np.clip(share, 0.0, None) ** 3))


# Torque over the best, against (spark - best spark) / burn duration; early is positive. Mean of `fired_cycle` at
# phi 0.9-1.4, 3000 rpm, and tested against it.
_EARLY = (-2.2, -1.6, -1.3, -1.1, -0.9, -0.7, -0.5, -0.35, -0.2, -0.1, 0.0, 0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.1, 1.4)
_SHARE = (
    0.0, 0.2, 0.354, 0.462, 0.579, 0.703, 0.824, 0.905, 0.966, 0.991, 1.0,
    0.991, 0.963, 0.887, 0.779, 0.605, 0.42, 0.242, 0.042,
)  # fmt: skip


def best_spark(burn_deg: FloatArray) -> FloatArray:
    """Spark angle of best torque.

    Args:
        burn_deg: burn duration [deg], shape (N,).

    Returns:
        Angle before top dead centre [deg], shape (N,).

    Valid: burn 40-100 deg.
    Source: fit to `fired_cycle` (tested); 25-35 deg before top at working speed by hindawi 2011/678719.
    """
    return np.asarray(0.445 * burn_deg)


def timing_share(spark_deg: FloatArray, burn_deg: FloatArray) -> FloatArray:
    """Indicated torque over the best that timing could give.

    Args:
        spark_deg: spark before top dead centre [deg], shape (N,).
        burn_deg: burn duration [deg], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: within 0.03 of `fired_cycle` for errors up to half the burn duration, within 0.09 up to 1.1 of it, at phi
        0.9-1.4 (tested); beyond that only its direction holds.
    Source: table from `fired_cycle`.
    """
    return np.asarray(np.interp((spark_deg - best_spark(burn_deg)) / burn_deg, _EARLY, _SHARE))


def leak_share(leak_mm2: FloatArray, displacement_m3: float, speed_rpm: float) -> FloatArray:
    """Indicated work left by a leak, over a tight cylinder, at working speed.

    Args:
        leak_mm2: effective leak area [mm2], shape (N,).
        displacement_m3: swept volume [m3], scalar.
        speed_rpm: crank speed [rpm], scalar.

    Returns:
        Share [1], shape (N,).

    Valid: within 0.05 of `fired_cycle` up to 4 mm2 on 160 cm3 at 2000-4000 rpm (tested).
    Source: fit to `fired_cycle`.
    """
    scaled = leak_mm2 * (160e-6 / displacement_m3) * (3000.0 / speed_rpm) ** 1.25
    return np.asarray(np.exp(-0.095 * scaled - 0.0012 * scaled**2))


def friction_pressure(speed_rpm: FloatArray) -> FloatArray:
    """Mean effective pressure that friction and pumping take.

    Args:
        speed_rpm: crank speed [rpm], shape (N,).

    Returns:
        Friction mean effective pressure [Pa], shape (N,).

    Valid: 500-6000 rpm.
    Source: 0.97 + 0.15 N + 0.05 N^2 bar, N in thousands (Barnes-Moss in Heywood 1988, ch. 13, from memory).
    """
    n = speed_rpm / 1000.0
    return np.asarray((0.97 + 0.15 * n + 0.05 * n * n) * 1e5)


def brake_share(indicated_share: FloatArray, indicated_pa: FloatArray, speed_rpm: float) -> FloatArray:
    """Torque at the crank over full torque, when the indicated work is a share of full.

    Args:
        indicated_share: indicated work over full [1], shape (N,).
        indicated_pa: full indicated mean effective pressure [Pa], shape (N,).
        speed_rpm: crank speed [rpm], scalar.

    Returns:
        Share of the brake torque, not below zero [1], shape (N,).

    Valid: friction does not change with the fault.
    Source: identity; friction by `friction_pressure`, 1.15 for an air-cooled single (judgement).
    """
    friction = constants.value("combustion_friction_share") * friction_pressure(np.full(1, speed_rpm))
    full = np.maximum(indicated_pa - friction, 1.0)
    return np.asarray(np.clip((indicated_share * indicated_pa - friction) / full, 0.0, 1.5))


def late_share(spark_deg: FloatArray, burn_deg: FloatArray) -> FloatArray:
    """How far the burn reaches into the opening exhaust: what bangs in the muffler and heats the head.

    Args:
        spark_deg: spark before top dead centre [deg], shape (N,).
        burn_deg: burn duration [deg], shape (N,).

    Returns:
        0 burnt out in time to 1 still burning when the exhaust opens [1], shape (N,).

    Valid: exhaust opening about 120 deg after top.
    Source: judgement.
    """
    ends = burn_deg - spark_deg
    return np.asarray(np.clip((ends - 30.0) / 70.0, 0.0, 1.0))
