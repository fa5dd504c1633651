"""How fast the crank turns, whoever or whatever spins it.

One figure for a usual pull in all rooms: 550 rpm with the plug in. Trade pages give 650 and 430; coil makers' pages
want a spark at 250-350 rpm and testers are spun there, which a usual pull must clear with room. Judgement.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def arm_speed_share(torque_nm: FloatArray, usual_nm: FloatArray, strongest_nm: FloatArray) -> FloatArray:
    """Speed of a pull against a load, over that against the usual load.

    Args:
        torque_nm: mean torque at the starter reel [N.m], shape (N,).
        usual_nm: mean torque of a healthy machine [N.m], shape (N,).
        strongest_nm: torque at which the arm stands still [N.m], shape (N,).

    Returns:
        Speed over the usual one, 0 where the load is too much [1], shape (N,).

    Valid: a whole arm treated as one muscle.
    Source: Hill, Proc. R. Soc. B 126 (1938) 136, force-velocity curve of muscle (form from memory); curvature:
        judgement.
    """

    def hill(load: FloatArray) -> FloatArray:
        share = np.clip(load / strongest_nm, 0.0, 1.0)
        return (1.0 - share) / (1.0 + share / constants.value("arm_curvature"))

    return hill(torque_nm) / hill(usual_nm)


def friction_nm(displacement_cm3: float, oil_ratio: FloatArray, air_c: float) -> FloatArray:
    """Mean torque of oil and bearings at hand speed.

    Args:
        displacement_cm3: swept volume [cm3], scalar.
        oil_ratio: thickness of the oil over the right grade [1], shape (N,).
        air_c: temperature of the oil [C], scalar.

    Returns:
        Torque [N.m], shape (N,).

    Valid: -20 to 100 C. Oil halves its thickness in about 22 K here; half of the friction is thickness.
    Source: judgement.
    """
    thickness = oil_ratio * 2.0 ** ((20.0 - air_c) / constants.value("oil_halving_k"))
    size = displacement_cm3 / 160.0
    return np.asarray(constants.value("hand_friction_nm") * size * (0.5 + 0.5 * np.minimum(thickness, 30.0)))


def rope_rpm(
    usual_rpm: float, strength: FloatArray, speed_share: FloatArray, grip: FloatArray, length_share: FloatArray
) -> FloatArray:
    """Mean crank speed of a pull.

    Args:
        usual_rpm: a usual pull on a healthy machine [rpm], scalar.
        strength: the one who pulls against a usual one [1], shape (N,).
        speed_share: from `arm_speed_share` [1], shape (N,).
        grip: share of the pull that pawls and cup hand on [1], shape (N,).
        length_share: usable rope over full length [1], shape (N,).

    Returns:
        Crank speed [rpm], shape (N,).

    Valid: a short rope never lets the flywheel come up to speed: speed goes as the root of the length.
    Source: constant acceleration over the pull (v^2 = 2 a s); the rest: judgement.
    """
    return usual_rpm * strength * speed_share * grip * np.sqrt(np.clip(length_share, 0.0, 1.0))


def rope_return(strength: FloatArray, overwound: FloatArray, drag_nm: FloatArray, guide_wear: FloatArray) -> FloatArray:
    """How well the rope goes back.

    Args:
        strength: rewind spring against nominal [1], shape (N,).
        overwound: spring wound solid before the rope is out [1], shape (N,).
        drag_nm: friction of the reel [N.m], shape (N,).
        guide_wear: wear of the rope guide [1], shape (N,).

    Returns:
        1 snaps back, 0 hangs out [1], shape (N,).

    Valid: spring torque must beat reel and guide.
    Source: torque balance; values: judgement.
    """
    spring = constants.value("rewind_nm") * strength * (1.0 + 0.2 * overwound)
    needed = drag_nm * (1.0 + guide_wear)
    return 1.0 / (1.0 + np.exp(-np.clip((spring - needed) / constants.value("rewind_width_nm"), -60.0, 60.0)))
