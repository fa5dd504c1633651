"""Water pumps: suction, priming, trapped pressure."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def pump_suction_kpa(wear: FloatArray, leak_mm2: FloatArray, dry: FloatArray, valve_leak: FloatArray) -> FloatArray:
    """Suction against a closed inlet at speed.

    Args:
        wear: 0 new to 1 useless [1], shape (N,).
        leak_mm2: air leak on the suction side [mm2], shape (N,).
        dry: casing not filled, 0 to 1 [1], shape (N,).
        valve_leak: foot or check valve leaking, 0 to 1 [1], shape (N,).

    Returns:
        Suction [kPa], shape (N,).

    Valid: self-priming centrifugal pumps.
    Source: level from a maker's table, second-hand; losses: judgement.
    """
    able = (1.0 - constants.value("impeller_wear_loss") * wear) * (1.0 - 0.5 * valve_leak) * (1.0 - dry)
    tight = 1.0 / (1.0 + leak_mm2 / constants.value("pump_leak_half_mm2"))
    return constants.value("pump_vacuum_kpa") * able * tight


def prime_time_s(clean_s: float, suction_kpa: FloatArray, hose_open: FloatArray) -> FloatArray:
    """Time until water comes.

    Args:
        clean_s: time of a sound pump at the usual lift [s], scalar.
        suction_kpa: suction that the pump can draw [kPa], shape (N,).
        hose_open: free share of suction hose and strainer [1], shape (N,).

    Returns:
        Time [s], shape (N,); 600 where it does not prime.

    Valid: usual lift.
    Source: air is drawn down like V dp/dt = -S (p - p_end): t ~ -ln(1 - lift/suction) (textbook); sizes: judgement.
    """
    limit = constants.value("prime_limit_s")
    sound = -np.log(1.0 - constants.value("pump_lift_kpa") / constants.value("pump_vacuum_kpa"))
    share = np.clip(constants.value("pump_lift_kpa") / np.clip(suction_kpa, 1e-3, None), 0.0, 1.0 - 1e-9)
    time = clean_s * -np.log1p(-share) / sound / np.clip(hose_open, 0.05, 1.0)
    return np.asarray(np.minimum(time, limit))


def trapped_torque_nm(pressure_kpa: FloatArray, displacement_cm3: float) -> FloatArray:
    """Torque that pressure shut in a piston pump puts on the crank.

    Args:
        pressure_kpa: pressure [kPa], shape (N,).
        displacement_cm3: volume moved a turn [cm3], scalar.

    Returns:
        Torque [N.m], shape (N,).

    Valid: direct drive.
    Source: p V / 2 pi (textbook).
    """
    return pressure_kpa * 1e3 * displacement_cm3 * 1e-6 / (2.0 * np.pi)
