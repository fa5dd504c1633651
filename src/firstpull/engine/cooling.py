"""Head temperature: heat from the burn against air over the fins."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def air_share(fins: FloatArray, screen: FloatArray, shroud_missing: FloatArray, vanes_lost: FloatArray) -> FloatArray:
    """Cooling left, over that of clean fins.

    Args:
        fins: share of the fins packed [1], shape (N,).
        screen: share of the air screen covered [1], shape (N,).
        shroud_missing: air guide missing [1], shape (N,).
        vanes_lost: share of fan vanes broken off [1], shape (N,).

    Returns:
        Share of heat transfer, never quite zero [1], shape (N,).

    Valid: 0-1 each.
    Source: judgement: convection with flow to the 0.7, no air guide leaves about a third.
    """
    flow = (1.0 - 0.95 * screen**2) * (1.0 - 0.95 * vanes_lost) * (1.0 - 0.7 * shroud_missing)
    return np.asarray(np.maximum((1.0 - 0.75 * fins**1.5) * np.maximum(flow, 0.0) ** 0.7, 0.05))


def head_rise_k(
    rated_w: float, conductance_w_k: float, load: FloatArray, late: FloatArray, lean: FloatArray, air: FloatArray
) -> FloatArray:
    """How far above the air the head settles.

    Args:
        rated_w: rated power of the class [W], scalar.
        conductance_w_k: heat given off a degree, clean, at working speed [W/K], scalar.
        load: load over full [1], shape (N,).
        late: share of the burn that is late [1], shape (N,).
        lean: how near the mixture is to the hottest, 0-1 [1], shape (N,).
        air: cooling left over that of clean fins [1], shape (N,).

    Returns:
        Temperature rise [K], shape (N,).

    Valid: working speed.
    Source: balance of heat in (with fuel) and out (with air); the figures are judgement.
    """
    idle = constants.value("cooling_idle_share")
    fuel = idle + (1.0 - idle) * load
    heat = fuel * (1.0 + 0.25 * late) * (1.0 + 0.12 * lean)
    return np.asarray(constants.value("cooling_heat_share") * rated_w * heat / (conductance_w_k * air))


def settle_minutes(mass_kg: float, conductance_w_k: float, air: FloatArray) -> FloatArray:
    """Time until the head is within a twentieth of its end.

    Args:
        mass_kg: mass of head and barrel [kg], scalar.
        conductance_w_k: heat given off a degree, clean [W/K], scalar.
        air: cooling left over that of clean fins [1], shape (N,).

    Returns:
        Three time constants [min], shape (N,).

    Valid: steady load.
    Source: first-order warming; aluminium 900 J/(kg K).
    """
    return np.asarray(3.0 * mass_kg * 900.0 / (conductance_w_k * air) / 60.0)
