"""Oil: its film, what of it is burnt, what is seen of it, and the noises of what it should keep apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def chance(value: FloatArray, half: float, width: float) -> FloatArray:
    """Chance that something is noticed, rising with its size.

    Args:
        value: size of it [unit of the case], shape (N,).
        half: size that half of the people notice [unit of the case], scalar.
        width: how sharply the chance rises [unit of the case], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: all.
    Source: logistic law of detection; its numbers are judgement of each case.
    """
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip((value - half) / width, -40.0, 40.0))))


def viscosity_share(grade: FloatArray, fuel: FloatArray, water: FloatArray) -> FloatArray:
    """Thickness of the oil over the right one.

    Args:
        grade: thickness of what was filled in over the right grade [1], shape (N,).
        fuel: share of fuel in it [1], shape (N,).
        water: share of water in it [1], shape (N,).

    Returns:
        Viscosity ratio [1], shape (N,).

    Valid: fuel to 0.5.
    Source: logarithmic mixing (Arrhenius) of 10 mPa s oil and 0.5 mPa s petrol when warm; water taken as half an oil's
        film (judgement).
    """
    return np.asarray(grade * np.exp(fuel * np.log(0.5 / 10.0)) * (1.0 - 0.5 * np.minimum(water / 0.2, 1.0)))


def film_share(viscosity: FloatArray, level_mm: FloatArray, play_mm: FloatArray) -> FloatArray:
    """Oil film in the big end over a healthy one's.

    Args:
        viscosity: thickness over the right one [1], shape (N,).
        level_mm: level above full [mm], shape (N,).
        play_mm: play of the big end [mm], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: splash lubrication; the dipper misses the oil some 20 mm below full.
    Source: judgement: film as the root of viscosity, loss by play and level.
    """
    dipped = chance(level_mm, constants.value("oil_dipper_mm"), constants.value("oil_dipper_width_mm"))
    return np.asarray(np.sqrt(viscosity) * dipped / (1.0 + 4.0 * np.maximum(play_mm - 0.06, 0.0)))


def burnt_ml_min(
    ring_mm2: FloatArray,
    guide_mm: FloatArray,
    gallery_mm2: FloatArray,
    pressure_kpa: FloatArray,
    level_mm: FloatArray,
    viscosity: FloatArray,
    displacement_m3: float,
) -> FloatArray:
    """Oil that a four-stroke burns at work.

    Args:
        ring_mm2: leak area past the rings [mm2], shape (N,).
        guide_mm: play of the valves in their guides [mm], shape (N,).
        gallery_mm2: gasket leak into the gallery [mm2], shape (N,).
        pressure_kpa: crankcase pressure above ambient, below zero is vacuum [kPa], shape (N,).
        level_mm: level above full [mm], shape (N,).
        viscosity: thickness over the right one [1], shape (N,).
        displacement_m3: swept volume [m3], scalar.

    Returns:
        Oil burnt [mL/min], shape (N,).

    Valid: rated speed.
    Source: judgement; a healthy 160 cm3 burns a few mL an hour (common practice, no source).
    """
    past = 0.25 * np.maximum(ring_mm2 - 0.1, 0.0) ** 1.2 + 1.5 * np.maximum(guide_mm - 0.05, 0.0)
    blown = 0.9 * gallery_mm2 + 0.12 * np.maximum(pressure_kpa, 0.0)
    over = 0.05 * np.maximum(level_mm - 6.0, 0.0) ** 1.1
    thin = np.maximum(viscosity, 0.05) ** -0.3
    return np.asarray((0.04 + past + blown + over) * thin * displacement_m3 / 160e-6)
