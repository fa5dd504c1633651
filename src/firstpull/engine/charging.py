"""Charging the battery from the flywheel coil."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def coil_vac(full_vac: float, rpm: FloatArray, coil_share: FloatArray, opened: FloatArray) -> FloatArray:
    """Alternating volts of the charging coil off circuit.

    Args:
        full_vac: volts of a sound coil at 3600 r/min [V], scalar.
        rpm: speed [rpm], shape (N,).
        coil_share: live turns and magnet over sound ones [1], shape (N,).
        opened: 0 sound to 1 open [1], shape (N,).

    Returns:
        Volts, effective [V], shape (N,).

    Valid: off circuit.
    Source: volts go with speed (textbook).
    """
    return full_vac * rpm / 3600.0 * coil_share * (1.0 - opened)


def charge_v(
    rest_v: FloatArray, vac: FloatArray, passes: FloatArray, over: FloatArray, full_wave: bool, regulated: bool
) -> FloatArray:
    """Volts at the battery posts with the engine running fast.

    Args:
        rest_v: volts of the rested battery [V], shape (N,).
        vac: alternating volts of the coil off circuit [V], shape (N,).
        passes: share that diode and regulator pass, 0 to 1 [1], shape (N,).
        over: regulator passes everything, 0 to 1 [1], shape (N,).
        full_wave: full-wave rectifier [1], scalar.
        regulated: held by a regulator [1], scalar.

    Returns:
        Volts [V], shape (N,).

    Valid: some minutes after starting.
    Source: mean of a rectified wave against battery and resistance (textbook); resistances: judgement.
    """
    mean = vac * constants.value("full_wave_share" if full_wave else "half_wave_share")
    spare = np.clip(mean - constants.value("diode_drop_v") - rest_v, 0.0, None)
    amps = spare / (constants.value("charging_ohm") + constants.value("battery_acceptance_ohm")) * passes
    free = rest_v + amps * constants.value("battery_acceptance_ohm")
    if not regulated:
        return free
    held = np.minimum(free, np.maximum(constants.value("regulated_v"), rest_v))
    return held + over * (free - held)
