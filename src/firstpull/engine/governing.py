"""Steady speed under a governor: throttle curve, droop, runaway, idle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def torque_at(travel: FloatArray) -> FloatArray:
    """Gross torque over that at full throttle, same speed and mixture.

    Args:
        travel: throttle travel, 0 shut to 1 open [1], shape (N,).

    Returns:
        Share of the torque [1], shape (N,).

    Valid: 0 to 1.
    Source: judgement: steep at first, flat at the end.
    """
    curve = constants.value("throttle_curve")
    return np.asarray((1.0 - np.exp(-travel / curve)) / (1.0 - np.exp(-1.0 / curve)))


def travel_for(torque: FloatArray) -> FloatArray:
    """Throttle travel that gives this share of the full torque.

    Args:
        torque: gross torque over that at full throttle [1], shape (N,).

    Returns:
        Travel [1], shape (N,); 1 where more is asked than there is.

    Valid: torque above 0.
    Source: inverse of torque_at.
    """
    curve = constants.value("throttle_curve")
    left = 1.0 - np.clip(torque, 0.0, 1.0) * (1.0 - np.exp(-1.0 / curve))
    return np.asarray(np.clip(-curve * np.log(left), 0.0, 1.0))


def droop_share(base: float, spring_rate: FloatArray, hole: FloatArray) -> FloatArray:
    """Fall of speed over the whole travel of the governor.

    Args:
        base: the same for the right spring in the right hole, over set speed [1], scalar.
        spring_rate: spring over the right one [1], shape (N,).
        hole: holes away from the right one, inward positive [1], shape (N,).

    Returns:
        Droop over set speed [1], shape (N,).

    Valid: rates 0.05 to 3, at most three holes.
    Source: a weaker spring or a shorter arm stretches less force over the travel; ratio of a hole: judgement.
    """
    return base * np.clip(spring_rate, 0.05, 3.0) * constants.value("hole_ratio") ** hole


def set_speed_rpm(top_set_rpm: FloatArray, spring_rate: FloatArray, hole: FloatArray) -> FloatArray:
    """Speed at which flyweights or vane balance the spring.

    Args:
        top_set_rpm: speed it was set for with the right spring [rpm], shape (N,).
        spring_rate: spring over the right one [1], shape (N,).
        hole: holes away from the right one, inward positive [1], shape (N,).

    Returns:
        Speed [rpm], shape (N,).

    Valid: flyweights; a vane has nearly the same square law.
    Source: centrifugal force goes as speed squared (textbook); effect of a hole: judgement.
    """
    return top_set_rpm * np.sqrt(np.clip(spring_rate, 0.02, 3.0)) * (1.0 - constants.value("hole_speed") * hole)


def governed_share(load: FloatArray, strength: FloatArray, droop: FloatArray) -> FloatArray:
    """Speed under load over set speed, governor sound.

    Args:
        load: load torque over full-throttle gross torque [1], shape (N,).
        strength: torque of this engine over a sound one [1], shape (N,).
        droop: fall of speed over the whole travel [1], shape (N,).

    Returns:
        Speed over set speed [1], shape (N,).

    Valid: loads that rise with speed squared once the throttle is wide open.
    Source: proportional governor (textbook); where the throttle is wide open, torque balance.
    """
    friction = constants.value("friction_share")
    idle_load = constants.value("no_load_share")
    gross = np.clip(strength, 0.02, None)
    at_rest = travel_for(np.full_like(load, friction + idle_load))
    travel = travel_for((friction + idle_load + load) / gross)
    governed = 1.0 + droop * (at_rest - travel)
    balance = np.sqrt(np.clip(gross - friction, 0.0, None) / np.clip(idle_load + load, 1e-3, None))
    return np.minimum(governed, balance)


def runaway_share(least_travel: FloatArray, strength: FloatArray) -> FloatArray:
    """No-load speed over set speed where the throttle cannot close below this travel.

    Args:
        least_travel: throttle travel below which the governor cannot close it [1], shape (N,).
        strength: torque of this engine over a sound one [1], shape (N,).

    Returns:
        Speed over set speed [1], shape (N,).

    Valid: no load but windage.
    Source: torque balance with windage as speed squared and friction constant; upper end: judgement.
    """
    gross = torque_at(np.clip(least_travel, 0.0, 1.0)) * np.clip(strength, 0.0, None)
    spare = np.clip(gross - constants.value("friction_share"), 0.0, None)
    return np.minimum(np.sqrt(spare / constants.value("no_load_share")), constants.value("runaway_share"))


def idle_share(air: FloatArray, strength: FloatArray) -> FloatArray:
    """Idle speed over the speed it was set for.

    Args:
        air: air at idle over that of the right throttle stop [1], shape (N,).
        strength: torque that the idle mixture leaves, over that of a sound one [1], shape (N,).

    Returns:
        Speed over the set idle speed [1], shape (N,).

    Valid: no load, throttle on its stop.
    Source: torque balance 0.6 u + 0.4 u^2 = air * strength; split of friction and windage: judgement.
    """
    torque = np.clip(air * strength, 0.0, None)
    return (-0.6 + np.sqrt(0.36 + 1.6 * torque)) / 0.8


def overspeed_chance(speed_rpm: FloatArray, usual_rpm: float) -> FloatArray:
    """Chance that this speed is dangerous.

    Args:
        speed_rpm: no-load speed at the fast position [rpm], shape (N,).
        usual_rpm: usual top speed of the class [rpm], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: governed engines.
    Source: judgement: more than a tenth above the usual top speed.
    """
    return step_up(speed_rpm / usual_rpm, 1.1, constants.value("overspeed_width"))
