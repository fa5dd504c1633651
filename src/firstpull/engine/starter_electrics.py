"""Electric starting: battery, drops along the way, motor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]
_CHARGE = np.array([0.0, 0.25, 0.5, 0.75, 1.0])
_REST_V = np.array([11.6, 12.0, 12.2, 12.4, 12.65])


@dataclass(frozen=True, slots=True)
class Cranking:
    """What the meters show with the key at start: current [A], volts [V], crank speed [rpm], one array each."""

    current_a: FloatArray
    battery_v: FloatArray
    starter_v: FloatArray
    crank_rpm: FloatArray


def battery_rest_v(charge: FloatArray, cell_dead: FloatArray) -> FloatArray:
    """Volts at the posts of a rested 12 V lead-acid battery.

    Args:
        charge: 0 empty to 1 full [1], shape (N,).
        cell_dead: 0 sound to 1 one dead cell [1], shape (N,).

    Returns:
        Volts [V], shape (N,).

    Valid: rested for hours, no load.
    Source: public table 12.6/12.4/12.2/12.0/11.6 V; vendors differ by 0.1 V.
    """
    volts = np.interp(charge, _CHARGE, _REST_V)
    return np.asarray(volts - constants.value("dead_cell_v") * cell_dead)


def battery_inner_ohm(charged_ohm: FloatArray, charge: FloatArray, cell_dead: FloatArray) -> FloatArray:
    """Inner resistance of the battery.

    Args:
        charged_ohm: the same when charged [ohm], shape (N,).
        charge: 0 empty to 1 full [1], shape (N,).
        cell_dead: 0 sound to 1 one dead cell [1], shape (N,).

    Returns:
        Resistance [ohm], shape (N,).

    Valid: 12 V lead-acid.
    Source: judgement: rises as the acid thins.
    """
    empty = np.clip(1.0 - charge, 0.0, 1.0)
    rise = 1.0 + constants.value("battery_low_gain") * empty + 8.0 * empty**4
    return charged_ohm * rise + constants.value("dead_cell_ohm") * cell_dead


def cranking(
    rest_v: FloatArray,
    battery_ohm: FloatArray,
    way_ohm: FloatArray,
    motor_ohm: FloatArray,
    torque_nm: FloatArray,
    gear: float,
    kt_nm_a: float,
) -> Cranking:
    """The starter at work: a series circuit with a motor in it.

    Args:
        rest_v: volts of the rested battery [V], shape (N,).
        battery_ohm: inner resistance [ohm], shape (N,).
        way_ohm: cables, earth and solenoid contacts together [ohm], shape (N,).
        motor_ohm: armature and brushes [ohm], shape (N,).
        torque_nm: mean torque wanted at the crank [N.m], shape (N,).
        gear: motor turns for one of the crank [1], scalar.
        kt_nm_a: torque of the motor for each ampere [N.m/A as 1], scalar.

    Returns:
        Current [A], volts at posts and starter [V], crank speed [rpm], shape (N,) each.

    Valid: permanent-magnet motors; speed 0 where it stalls.
    Source: V = E + I R, T = kt I, E = kt w (textbook).
    """
    wanted = torque_nm / (gear * constants.value("starter_efficiency") * kt_nm_a)
    stall = rest_v / (battery_ohm + way_ohm + motor_ohm)
    current = np.minimum(wanted, stall)
    battery_v = rest_v - current * battery_ohm
    starter_v = battery_v - current * way_ohm
    turning = np.clip(starter_v - current * motor_ohm, 0.0, None) / (kt_nm_a * gear)
    return Cranking(current, battery_v, starter_v, turning * 60.0 / (2.0 * np.pi))
