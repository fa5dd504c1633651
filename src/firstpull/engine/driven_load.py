"""Turning things: inertia, energy, tip speed, imbalance, shaking, grip of belts and clutches."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def radians_per_s(rpm: FloatArray) -> FloatArray:
    """Turning speed in radians a second.

    Args:
        rpm: turning speed [rpm], shape (N,).

    Returns:
        Speed [rad/s], shape (N,).

    Valid: any.
    Source: 2 pi / 60.
    """
    return rpm * (2.0 * np.pi / 60.0)


def bar_inertia_kgm2(mass_kg: FloatArray, length_mm: FloatArray) -> FloatArray:
    """Inertia of a bar blade about its middle.

    Args:
        mass_kg: mass [kg], shape (N,).
        length_mm: length from tip to tip [mm], shape (N,).

    Returns:
        Inertia [kg.m2], shape (N,).

    Valid: slender bar.
    Source: m L^2 / 12 (textbook).
    """
    return mass_kg * (length_mm * 1e-3) ** 2 / 12.0


def turning_energy_j(inertia_kgm2: FloatArray, rpm: FloatArray) -> FloatArray:
    """Energy of a turning part.

    Args:
        inertia_kgm2: inertia [kg.m2], shape (N,).
        rpm: speed [rpm], shape (N,).

    Returns:
        Energy [J], shape (N,).

    Valid: rigid body.
    Source: J w^2 / 2 (textbook).
    """
    return 0.5 * inertia_kgm2 * radians_per_s(rpm) ** 2


def tip_speed_m_s(length_mm: float, rpm: FloatArray) -> FloatArray:
    """Speed of a blade tip.

    Args:
        length_mm: tip circle [mm], scalar.
        rpm: speed [rpm], shape (N,).

    Returns:
        Speed [m/s], shape (N,).

    Valid: blade driven at crank speed.
    Source: pi L n / 60 (textbook).
    """
    return np.pi * length_mm * 1e-3 * rpm / 60.0


def permissible_gmm(grade_mm_s: float, mass_kg: FloatArray, rpm: FloatArray) -> FloatArray:
    """Imbalance that a balance grade allows.

    Args:
        grade_mm_s: grade, offset times turning speed [mm/s], scalar.
        mass_kg: mass of the part [kg], shape (N,).
        rpm: speed [rpm], shape (N,).

    Returns:
        Imbalance [g.mm], shape (N,).

    Valid: rigid rotors.
    Source: ISO 21940-11 defines the grade as offset times speed; arithmetic.
    """
    return grade_mm_s * mass_kg * 1e3 / radians_per_s(rpm)


def shaking_mm_s(imbalance_gmm: FloatArray, rpm: FloatArray, mass_kg: float, loose: FloatArray) -> FloatArray:
    """Shaking of deck or handle, effective value.

    Args:
        imbalance_gmm: imbalance of what turns [g.mm], shape (N,).
        rpm: speed [rpm], shape (N,).
        mass_kg: mass that shakes [kg], scalar.
        loose: looseness of the mounts, 0 to 1 [1], shape (N,).

    Returns:
        Velocity [mm/s], shape (N,).

    Valid: well above the resonance of the mounts.
    Source: U w / M, effective value by sqrt 2 (textbook); share of the engine itself and of mounts: judgement.
    """
    blade = imbalance_gmm * 1e-3 * radians_per_s(rpm) / mass_kg / np.sqrt(2.0)
    both = np.hypot(blade, constants.value("engine_shake_mm_s"))
    return np.asarray(both * (1.0 + constants.value("loose_mount_gain") * loose))


def belt_grip(slack: FloatArray, glaze: FloatArray, off: FloatArray) -> FloatArray:
    """Torque that a belt can pass over the full load torque.

    Args:
        slack: 0 right to 1 hanging [1], shape (N,).
        glaze: 0 new to 1 polished [1], shape (N,).
        off: 0 on to 1 off [1], shape (N,).

    Returns:
        Share, at most 1 [1], shape (N,).

    Valid: V-belts with a tensioner.
    Source: judgement.
    """
    left = 1.0 - constants.value("belt_slack_loss") * slack
    rough = 1.0 - constants.value("belt_glaze_loss") * glaze
    return np.clip(constants.value("belt_new_grip") * left * rough * (1.0 - off), 0.0, 1.0)


def clutch_bite_rpm(set_rpm: FloatArray, spring_weak: FloatArray) -> FloatArray:
    """Speed at which the shoes of a centrifugal clutch touch the drum.

    Args:
        set_rpm: speed with the right springs [rpm], shape (N,).
        spring_weak: weakness of the springs, 0 right to 1 none [1], shape (N,).

    Returns:
        Speed [rpm], shape (N,).

    Valid: shoe force goes as speed squared.
    Source: centrifugal force against spring force (textbook).
    """
    return set_rpm * np.sqrt(np.clip(1.0 - spring_weak, 0.0, 1.0))


def creeps(idle_rpm: FloatArray, bite_rpm: FloatArray) -> FloatArray:
    """Share of idle time that a tool behind a centrifugal clutch turns.

    Args:
        idle_rpm: idle speed [rpm], shape (N,).
        bite_rpm: speed at which the clutch bites [rpm], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: uneven idle of a small engine.
    Source: judgement.
    """
    return step_up(idle_rpm - bite_rpm, 0.0, constants.value("clutch_width_rpm"))
