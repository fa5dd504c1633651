"""Hunting: the governed engine in time, worked out once on a grid and looked up for each machine."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]

STEP_S = 0.004
SETTLE_STEPS = 900
WATCH_STEPS = 1500
# Constants of other systems that the time course asks for as well.
_ASKED = (
    "friction_share", "no_load_share", "throttle_curve", "main_starts_at", "main_stops_at", "film_lag_s", "arm_hz",
    "arm_damping", "filling_lag_s", "misfire_lean_phi", "misfire_lean_width", "misfire_rich_phi", "misfire_rich_width",
    "best_torque_phi", "lean_torque_loss", "rich_torque_loss",
)  # fmt: skip
# Axes of the grid: mixture at light throttle, spin-up (full torque over inertia and speed), droop, lost motion.
PHI = np.array([0.4, 0.5, 0.56, 0.62, 0.66, 0.7, 0.74, 0.78, 0.84, 0.95, 1.2])
SPIN = np.array([0.4, 0.8, 1.6, 3.2, 6.4])
DROOP = np.array([0.03, 0.05, 0.08, 0.12, 0.2])
PLAY = np.array([0.0, 0.06, 0.12, 0.2, 0.35])


@dataclass(frozen=True, slots=True)
class Swing:
    """How far and how fast speed swings: share of set speed [1] and swings a second [Hz], one array each."""

    swing_share: FloatArray
    hertz: FloatArray


def simulate(phi: FloatArray, spin: FloatArray, droop: FloatArray, play: FloatArray) -> Swing:
    """The governed engine at no load in time.

    Speed, torque with a firing and filling lag, fuel film, a second-order governor arm, lost motion to the throttle,
    and a main nozzle that starts late and stops early.

    Args:
        phi: mixture at light throttle, the idle and transfer circuit alone [1], shape (N,).
        spin: full-throttle torque over inertia and set speed [1/s as 1], shape (N,).
        droop: fall of speed over the governor's travel, share of set speed [1], shape (N,).
        play: lost motion between arm and throttle, share of travel [1], shape (N,).

    Returns:
        Half the swing from peak to peak over set speed [1] and its frequency [Hz], shape (N,) each.

    Valid: 3000 r/min four-stroke, no load; swing in the last six seconds of ten.
    Source: textbook governor loop; nozzle, film and arm: judgement (constants file).
    """
    from firstpull.engine.mixture import torque_share

    curve = constants.value("throttle_curve")
    full = 1.0 - np.exp(-1.0 / curve)
    friction, windage = constants.value("friction_share"), constants.value("no_load_share")
    starts, stops = constants.value("main_starts_at"), constants.value("main_stops_at")
    rich = max(constants.value("best_torque_phi"), 1.0)
    film_step = STEP_S / constants.value("film_lag_s")
    lag_step = STEP_S / constants.value("filling_lag_s")
    arm = 2.0 * np.pi * constants.value("arm_hz")
    damping = 2.0 * constants.value("arm_damping") * arm
    rest = -curve * np.log(1.0 - (friction + windage) * full)
    speed, torque = np.full_like(phi, 1.03), np.full_like(phi, friction + windage)
    position, rate, plate = np.full_like(phi, rest), np.zeros_like(phi), np.full_like(phi, rest)
    film, main = phi.copy(), np.zeros_like(phi)
    low, high = np.full_like(phi, np.inf), np.full_like(phi, -np.inf)
    rising = np.zeros_like(phi)
    was_above = np.zeros(phi.shape, dtype=bool)
    mean, half_play, inverse = np.ones_like(phi), 0.5 * play, 1.0 / droop
    for step in range(SETTLE_STEPS + WATCH_STEPS):
        wanted = np.clip(rest + (1.0 - speed) * inverse, 0.0, 1.0)
        rate += STEP_S * (arm * arm * (wanted - position) - damping * rate)
        position = np.clip(position + STEP_S * rate, 0.0, 1.0)
        plate = np.minimum(np.maximum(plate, position - half_play), position + half_play)
        main = np.where(plate > starts, 1.0, np.where(plate < stops, 0.0, main))
        film += film_step * (phi + main * np.maximum(rich - phi, 0.0) - film)
        made = torque_share(film) * (1.0 - np.exp(-plate / curve)) / full
        torque += lag_step * (made - torque)
        speed = np.maximum(speed + STEP_S * spin * (torque - friction - windage * speed * speed), 0.2)
        mean += 0.5 * STEP_S * (speed - mean)
        if step >= SETTLE_STEPS:
            low, high = np.minimum(low, speed), np.maximum(high, speed)
            above = speed > mean
            rising += above & ~was_above
            was_above = above
    return Swing(0.5 * (high - low), rising / (WATCH_STEPS * STEP_S))


@lru_cache(maxsize=8)
def _grid(world: tuple[float, ...]) -> tuple[FloatArray, FloatArray]:
    del world  # the constants in force, as the key of the cache
    points = np.array(list(product(PHI, SPIN, DROOP, PLAY)))
    swing = simulate(points[:, 0], points[:, 1], points[:, 2], points[:, 3])
    shape = (len(PHI), len(SPIN), len(DROOP), len(PLAY))
    return swing.swing_share.reshape(shape), swing.hertz.reshape(shape)


def _place(axis: FloatArray, values: FloatArray) -> tuple[NDArray[np.intp], FloatArray]:
    inside = np.clip(values, axis[0], axis[-1])
    index = np.clip(np.searchsorted(axis, inside, side="right") - 1, 0, len(axis) - 2)
    return index, (inside - axis[index]) / (axis[index + 1] - axis[index])


def swing_of(phi: FloatArray, spin: FloatArray, droop: FloatArray, play: FloatArray) -> Swing:
    """The same from the grid: between its points swing and frequency are blended, frequency by swing.

    Args:
        phi: mixture at light throttle [1], shape (N,).
        spin: full-throttle torque over inertia and set speed [1/s as 1], shape (N,).
        droop: fall of speed over the governor's travel, share of set speed [1], shape (N,).
        play: lost motion between arm and throttle, share of travel [1], shape (N,).

    Returns:
        Half the swing from peak to peak over set speed [1] and its frequency [Hz], shape (N,) each.

    Valid: inside the axes of the grid; outside its edge counts.
    Source: simulate, on 1375 points; the grid is kept for each set of constants in force.
    """
    swings, hertz = _grid(tuple(constants.value(name) for name in _ASKED))
    places = [
        _place(axis, values)
        for axis, values in (
            (PHI, phi),
            (np.log(SPIN), np.log(np.clip(spin, 1e-3, None))),
            (DROOP, droop),
            (PLAY, play),
        )
    ]
    total, paced, weight_sum = np.zeros_like(phi), np.zeros_like(phi), np.zeros_like(phi)
    flat_swing, flat_hertz = swings.ravel(), hertz.ravel()
    strides = (len(SPIN) * len(DROOP) * len(PLAY), len(DROOP) * len(PLAY), len(PLAY), 1)
    start = sum(index * stride for (index, _), stride in zip(places, strides, strict=True))
    for corner in product((0, 1), repeat=4):
        offset = sum(side * stride for side, stride in zip(corner, strides, strict=True))
        weight = np.ones_like(phi)
        for side, (_, share) in zip(corner, places, strict=True):
            weight = weight * (share if side else 1.0 - share)
        swing = weight * flat_swing[start + offset]
        total += swing
        paced += swing * flat_hertz[start + offset]
        weight_sum += swing
    return Swing(total, paced / np.clip(weight_sum, 1e-9, None))
