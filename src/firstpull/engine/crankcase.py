"""The crankcase: does it hold, does it breathe, does it pump."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.orifice import AIR_GAS_CONSTANT, CHOKED, CRITICAL

FloatArray = NDArray[np.float64]
_TURN = 2.0 * CRITICAL - 1.0


def _rate(area_mm2: FloatArray, volume_m3: float, temperature_k: FloatArray) -> FloatArray:
    """Flow function times area over volume, a second."""
    return np.asarray(CHOKED * area_mm2 * 1e-6 * np.sqrt(AIR_GAS_CONSTANT * temperature_k) / volume_m3)


def pressure_left(
    start_pa: float, seconds: float, area_mm2: FloatArray, volume_m3: float, ambient_pa: FloatArray, kelvin: FloatArray
) -> FloatArray:
    """Gauge pressure left in a leaking volume after some seconds.

    Args:
        start_pa: gauge pressure at the start [Pa], scalar.
        seconds: time watched [s], scalar.
        area_mm2: effective leak area [mm2], shape (N,).
        volume_m3: volume [m3], scalar.
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        kelvin: temperature [K], shape (N,).

    Returns:
        Gauge pressure left [Pa], shape (N,).

    Valid: below 0.89 times ambient as gauge pressure (no choking); slow enough to stay at one temperature.
    Source: isothermal emptying with the ellipse of ISO 6358-1:2013; the integral is an arc cosine.
    """
    middle, half = (1.0 / _TURN + 1.0) / 2.0, (1.0 / _TURN - 1.0) / 2.0
    begin = np.arccos((middle - (1.0 + start_pa / ambient_pa)) / half)
    speed = np.sqrt(_TURN) / (1.0 - CRITICAL) * _rate(area_mm2, volume_m3, kelvin)
    end = np.maximum(begin - speed * seconds, 0.0)
    return np.asarray((middle - half * np.cos(end) - 1.0) * ambient_pa)


def vacuum_left(
    start_pa: float, seconds: float, area_mm2: FloatArray, volume_m3: float, ambient_pa: FloatArray, kelvin: FloatArray
) -> FloatArray:
    """Vacuum left in a leaking volume after some seconds.

    Args:
        start_pa: vacuum at the start, below ambient [Pa], scalar.
        seconds: time watched [s], scalar.
        area_mm2: effective leak area [mm2], shape (N,).
        volume_m3: volume [m3], scalar.
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        kelvin: temperature [K], shape (N,).

    Returns:
        Vacuum left [Pa], shape (N,).

    Valid: start less than 0.47 times ambient (no choking); slow enough to stay at one temperature.
    Source: isothermal filling with the ellipse of ISO 6358-1:2013; the integral is an arc sine.
    """
    inside = np.clip(1.0 - start_pa / ambient_pa, CRITICAL, 1.0)
    begin = np.arcsin((inside - CRITICAL) / (1.0 - CRITICAL))
    speed = _rate(area_mm2, volume_m3, kelvin) / (1.0 - CRITICAL)
    end = np.minimum(begin + speed * seconds, np.pi / 2.0)
    return np.asarray((1.0 - CRITICAL) * (1.0 - np.sin(end)) * ambient_pa)


def static_joint(area_mm2: FloatArray) -> FloatArray:
    """What a joint that draws air when running leaks standing still under hand pressure.

    Args:
        area_mm2: leak area when running [mm2], shape (N,).

    Returns:
        Leak area standing still [mm2], shape (N,).

    Valid: all.
    Source: judgement: a hair of air drawn past a soft joint by shaking is sealed at rest; large gaps are not.
    """
    return np.asarray(area_mm2**3 / (area_mm2**2 + constants.value("crankcase_soft_joint_mm2") ** 2))


def scavenged(area_mm2: FloatArray, volume_m3: float, speed_rpm: FloatArray, kelvin: float) -> FloatArray:
    """Charge that the crankcase still pushes over, over what a tight one pushes.

    Args:
        area_mm2: all leak area of the crankcase, reed included [mm2], shape (N,).
        volume_m3: crankcase volume [m3], scalar.
        speed_rpm: crank speed [rpm], shape (N,).
        kelvin: gas temperature [K], scalar.

    Returns:
        Share [1], shape (N,).

    Valid: half a turn of compression at a tenth of a bar or a few; flow about half of choked.
    Source: first-order emptying with ISO 6358-1:2013; the half is judgement.
    """
    rate = _rate(area_mm2, volume_m3, np.full(1, kelvin))
    return np.asarray(np.exp(-constants.value("crankcase_flow_share") * rate * 30.0 / speed_rpm))


def running_vacuum(blow_mm2: FloatArray, blocked: FloatArray, open_: FloatArray, level_mm: FloatArray) -> FloatArray:
    """Crankcase vacuum of a running four-stroke at its filler.

    Args:
        blow_mm2: leak area past rings and gasket into the crankcase [mm2], shape (N,).
        blocked: share of the breather that is shut [1], shape (N,).
        open_: breather valve that does not close [1], shape (N,).
        level_mm: oil level above full [mm], shape (N,).

    Returns:
        Vacuum, below zero it blows [kPa], shape (N,).

    Valid: rated speed; a slight vacuum is healthy.
    Source: judgement: healthy 2 kPa, a worn ring of 1.2 mm2 blows.
    """
    free = np.maximum(1.0 - blocked, 0.04)
    pumped = constants.value("crankcase_vacuum_kpa") * (1.0 - open_) * free
    blown = constants.value("crankcase_blow_kpa_per_mm2") * blow_mm2 / free
    full = 0.02 * np.maximum(level_mm - 5.0, 0.0)
    return np.asarray(np.maximum(pumped - blown - full, -30.0))


def bubbles(area_mm2: FloatArray, gauge_pa: float, ambient_pa: FloatArray, kelvin: FloatArray) -> FloatArray:
    """Air through one place under test pressure.

    Args:
        area_mm2: effective leak area there [mm2], shape (N,).
        gauge_pa: gauge pressure held [Pa], scalar.
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        kelvin: temperature [K], shape (N,).

    Returns:
        Free air [mL/min], shape (N,).

    Valid: below choking.
    Source: ISO 6358-1:2013.
    """
    inside = ambient_pa + gauge_pa
    past = (ambient_pa / inside - CRITICAL) / (1.0 - CRITICAL)
    psi = CHOKED * np.sqrt(np.clip(1.0 - past * past, 0.0, 1.0))
    litre_s = area_mm2 * 1e-6 * inside * psi * np.sqrt(AIR_GAS_CONSTANT * kelvin) / ambient_pa * 1e3
    return np.asarray(litre_s * 60e3)
