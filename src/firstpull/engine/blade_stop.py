"""How long a blade turns after the control is let go."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def stop_time_s(
    inertia_kgm2: FloatArray, speed_rad_s: FloatArray, torque_nm: FloatArray, windage_nms2: FloatArray
) -> FloatArray:
    """Time to a stand under a constant torque and air drag.

    Args:
        inertia_kgm2: what turns [kg.m2], shape (N,).
        speed_rad_s: speed when let go [rad/s], shape (N,).
        torque_nm: braking torque, above zero [N.m], shape (N,).
        windage_nms2: air drag over speed squared, above zero [N.m.s2], shape (N,).

    Returns:
        Time [s], shape (N,).

    Valid: torque that does not fade.
    Source: J dw/dt = -(T + c w^2) solved in closed form (textbook).
    """
    root = np.sqrt(torque_nm * windage_nms2)
    return inertia_kgm2 / root * np.arctan(speed_rad_s * np.sqrt(windage_nms2 / torque_nm))


def brake_torque_nm(new_nm: float, pad_wear: FloatArray, spring_share: FloatArray, oily: FloatArray) -> FloatArray:
    """Torque of the brake with the control let go.

    Args:
        new_nm: torque of a sound brake [N.m], scalar.
        pad_wear: 0 new to 1 gone [1], shape (N,).
        spring_share: spring over a new one [1], shape (N,).
        oily: 0 dry to 1 soaked [1], shape (N,).

    Returns:
        Torque [N.m], shape (N,).

    Valid: cable free enough to let the spring work.
    Source: judgement; worn lining loses late, so wear is squared.
    """
    lining = 1.0 - constants.value("pad_wear_loss") * pad_wear**2
    dry = np.clip(1.0 - constants.value("oil_loss") * oily, 0.0, 1.0)
    return new_nm * np.clip(lining, 0.0, 1.0) * np.clip(spring_share, 0.0, 2.0) * dry


def brake_frees(slack_mm: FloatArray) -> FloatArray:
    """How fully the cable pulls the brake off when the control is held.

    Args:
        slack_mm: cable slack [mm], shape (N,).

    Returns:
        0 not to 1 fully [1], shape (N,).

    Valid: 0 to 25 mm.
    Source: judgement.
    """
    return 1.0 - step_up(slack_mm, constants.value("slack_free_mm"), constants.value("slack_width_mm"))
