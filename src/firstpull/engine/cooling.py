"""Head temperature: heat from the burn against air over the fins."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def air_share(
    fins: FloatArray, screen: FloatArray, shroud_missing: FloatArray, vanes_lost: FloatArray
) -> FloatArray:
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
    return np.asarray(np.maximum((1.0 - 0.9 * fins) * np.maximum(flow, 0.0) ** 0.7, 0.05))


def heat_into_head(fuel_kg_s: FloatArray, late: FloatArray, lean: FloatArray) -> FloatArray:
    """Heat that the burn leaves in head and barrel.

    Args:
        fuel_kg_s: fuel burnt [kg/s], shape (N,).
        late: share of the burn that is late [1], shape (N,).
        lean: how near the mixture is to the hottest, 0-1 [1], shape (N,).

    Returns:
        Heat [W], shape (N,).

    Valid: working load.
    Source: judgement: 0.28 of the heating value 43.4 MJ/kg goes into head and barrel of an air-cooled single.
    """
    share = constants.value("cooling_heat_share") * (1.0 + 0.25 * late) * (1.0 + 0.12 * lean)
    return np.asarray(share * 43.4e6 * fuel_kg_s)


def settled_k(
    heat_w: FloatArray, conductance_w_k: float, speed_rpm: FloatArray, share: FloatArray, ambient_k: FloatArray
) -> FloatArray:
    """Temperature at which heat in and heat out agree.

    Args:
        heat_w: heat into the head [W], shape (N,).
        conductance_w_k: heat given off per degree at 3000 rpm with clean fins [W/K], scalar.
        speed_rpm: crank speed [rpm], shape (N,).
        share: cooling left [1], shape (N,).
        ambient_k: ambient temperature [K], shape (N,).

    Returns:
        Head temperature [K], shape (N,).

    Valid: fan on the crank.
    Source: balance; speed to the 0.7 (forced convection over fins, from memory).
    """
    out = conductance_w_k * (speed_rpm / 3000.0) ** 0.7 * share
    return np.asarray(ambient_k + heat_w / out)


def settle_minutes(mass_kg: float, conductance_w_k: float, share: FloatArray) -> FloatArray:
    """Time until the head is within a twentieth of its end.

    Args:
        mass_kg: mass that warms [kg], scalar.
        conductance_w_k: heat given off per degree [W/K], scalar.
        share: cooling left [1], shape (N,).

    Returns:
        Three time constants [min], shape (N,).

    Valid: steady load.
    Source: first-order warming; aluminium 900 J/(kg K).
    """
    return np.asarray(3.0 * mass_kg * 900.0 / (conductance_w_k * share) / 60.0)
