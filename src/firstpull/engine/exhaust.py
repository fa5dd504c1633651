"""The way out of the cylinder: back pressure, burnt gas left behind, the puff at the outlet."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def open_share(
    muffler: FloatArray, screen: FloatArray, port: FloatArray, screen_in: bool, muffler_on: bool
) -> FloatArray:
    """Free way out over a clean one: port, muffler and screen in a row.

    Args:
        muffler: share of the muffler that is shut [1], shape (N,).
        screen: share of the screen that is shut [1], shape (N,).
        port: share of the port that is shut [1], shape (N,).
        screen_in: whether the screen is in place [1], scalar.
        muffler_on: whether the muffler is fitted [1], scalar.

    Returns:
        Effective opening over clean [1], shape (N,).

    Valid: openings in series, each with its own share of the clean resistance.
    Source: resistances of turbulent openings add as one over area squared; the shares are judgement.
    """
    clean = constants.value("exhaust_port_resistance"), constants.value("exhaust_screen_resistance")
    rest = 1.0 - clean[0] - clean[1]
    parts = clean[0] / _free(port) ** 2
    if muffler_on:
        parts = parts + rest / _free(muffler) ** 2
        if screen_in:
            parts = parts + clean[1] / _free(screen) ** 2
    return np.asarray(1.0 / np.sqrt(parts))


def _free(shut: FloatArray) -> FloatArray:
    return np.asarray(np.maximum(1.0 - shut, 0.01))


def back_pressure(
    open_: FloatArray,
    clean_mm2: float,
    displacement_m3: float,
    speed_rpm: float,
    fires_each: float,
    ambient_pa: FloatArray,
) -> FloatArray:
    """Mean back pressure at full load.

    Args:
        open_: free way out over a clean one [1], shape (N,).
        clean_mm2: effective opening of a clean way out [mm2], scalar.
        displacement_m3: swept volume [m3], scalar.
        speed_rpm: crank speed [rpm], scalar.
        fires_each: turns of the crank to each firing: 2 or 1 [1], scalar.
        ambient_pa: absolute ambient pressure [Pa], shape (N,).

    Returns:
        Gauge back pressure, held by what a choked engine still moves [Pa], shape (N,).

    Valid: full throttle.
    Source: turbulent opening, dp = rho v^2 / 2 with exhaust at 800 K (judgement); flow falls as the pressure rises.
    """
    delivered = constants.value("exhaust_delivered_ported" if fires_each < 1.5 else "exhaust_delivered")
    gas = ambient_pa / (287.0 * 800.0)
    flow = displacement_m3 * delivered * 1.18 * (ambient_pa / 101325.0) * speed_rpm / 60.0 / fires_each
    full = 0.5 * (flow / (clean_mm2 * 1e-6 * open_)) ** 2 / gas * constants.value("exhaust_pulse_factor")
    return np.asarray(full / (1.0 + full / (1.2 * ambient_pa)))


def residual(back_pa: FloatArray, ambient_pa: FloatArray, exhaust_lift: FloatArray) -> FloatArray:
    """Burnt gas left in the fresh charge.

    Args:
        back_pa: gauge back pressure [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        exhaust_lift: exhaust lift over what the cam means to give [1], shape (N,).

    Returns:
        Share of burnt gas [1], shape (N,).

    Valid: below 0.95.
    Source: judgement: 0.08 of a clean four-stroke, rising with back pressure and a valve that hardly lifts.
    """
    shut = np.clip(1.0 - exhaust_lift / 0.5, 0.0, 1.0)
    share = constants.value("exhaust_residual") * (1.0 + back_pa / ambient_pa) + 0.6 * back_pa / ambient_pa
    return np.asarray(np.minimum(share + 0.85 * shut, 0.95))


def power_left(back_pa: FloatArray, ambient_pa: FloatArray, residual_share: FloatArray) -> FloatArray:
    """Indicated torque left by back pressure and burnt gas, over a clean way out.

    Args:
        back_pa: gauge back pressure [Pa], shape (N,).
        ambient_pa: absolute ambient pressure [Pa], shape (N,).
        residual_share: burnt gas in the charge [1], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: full throttle.
    Source: judgement: fresh charge displaced by burnt gas, and the work of pushing out.
    """
    fresh = (1.0 - residual_share) / (1.0 - constants.value("exhaust_residual"))
    return np.asarray(np.clip(fresh - 0.11 * back_pa / ambient_pa, 0.0, 1.0))
