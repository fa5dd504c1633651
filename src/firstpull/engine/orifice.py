"""Flow of a gas through a small opening: what every leak, tester and breather rests on."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
AIR_GAS_CONSTANT = 287.05  # J/(kg K), dry air; ISO 2533:1975 gives 287.05287
AIR_GAMMA = 1.40


def critical_ratio(gamma: float) -> float:
    """Pressure ratio below which the flow is choked.

    Args:
        gamma: ratio of specific heats [1], scalar.

    Returns:
        Pressure after over pressure before [1], scalar.

    Valid: ideal gas, gamma 1.05-1.67.
    Source: ISO 9300:2005, ideal-gas critical flow; identity.
    """
    return float((2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))


def choked_factor(gamma: float) -> float:
    """Mass flow times sqrt(R T) over area and pressure, when choked.

    Args:
        gamma: ratio of specific heats [1], scalar.

    Returns:
        Critical flow function [1], scalar.

    Valid: ideal gas, gamma 1.05-1.67.
    Source: ISO 9300:2005, ideal-gas critical flow function C*; identity.
    """
    return float(np.sqrt(gamma) * (2.0 / (gamma + 1.0)) ** ((gamma + 1.0) / (2.0 * (gamma - 1.0))))


CRITICAL = critical_ratio(AIR_GAMMA)
CHOKED = choked_factor(AIR_GAMMA)


def flow_factor(ratio: FloatArray) -> FloatArray:
    """Flow function of air by the ellipse; no flow where the far side is at higher pressure.

    Args:
        ratio: pressure after over pressure before [1], shape (N,).

    Returns:
        Mass flow times sqrt(R T) over area and pressure [1], shape (N,).

    Valid: all ratios from 0; within 0.3 % of the exact law.
    Source: ISO 6358-1:2013, ellipse of the subsonic range with the ideal critical ratio.
    """
    past = np.clip((ratio - CRITICAL) / (1.0 - CRITICAL), 0.0, 1.0)
    return np.asarray(CHOKED * np.sqrt(1.0 - past * past))


def exact_flow_factor(ratio: FloatArray) -> FloatArray:
    """Flow function of air by the isentropic law.

    Args:
        ratio: pressure after over pressure before [1], shape (N,).

    Returns:
        Mass flow times sqrt(R T) over area and pressure [1], shape (N,).

    Valid: ratios 0-1, ideal gas of gamma 1.4.
    Source: compressible flow identity (for example ISO 9300:2005 for the choked end).
    """
    x = np.clip(ratio, CRITICAL, 1.0)
    g = AIR_GAMMA
    return np.asarray(np.sqrt(2.0 * g / (g - 1.0) * x ** (2.0 / g) * (1.0 - x ** ((g - 1.0) / g))))


def mass_flow(area_mm2: FloatArray, before_pa: FloatArray, before_k: FloatArray, after_pa: FloatArray) -> FloatArray:
    """Mass of air per second through an opening.

    Args:
        area_mm2: effective area [mm2], shape (N,).
        before_pa: absolute pressure before [Pa], shape (N,).
        before_k: temperature before [K], shape (N,).
        after_pa: absolute pressure after [Pa], shape (N,).

    Returns:
        Mass flow, never backwards [kg/s], shape (N,).

    Valid: ideal gas; ellipse in the subsonic range.
    Source: ISO 6358-1:2013.
    """
    factor = flow_factor(after_pa / before_pa)
    return np.asarray(area_mm2 * 1e-6 * before_pa * factor / np.sqrt(AIR_GAS_CONSTANT * before_k))
