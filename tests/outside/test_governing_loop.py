"""The governor loop against linear control theory, droop classes and practice."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import eigvals

from firstpull.engine import constants, governing, hunting, mixture


def loop_eigenvalues(spin: float, droop: float) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """Eigenvalues of the loop of simulate() about its rest point: speed, torque, arm position, arm rate."""
    friction, windage = constants.value("friction_share"), constants.value("no_load_share")
    curve, lag = constants.value("throttle_curve"), constants.value("filling_lag_s")
    arm = 2.0 * np.pi * constants.value("arm_hz")
    damping = 2.0 * constants.value("arm_damping") * arm
    best = mixture.torque_share(np.array([1.15]))[0]
    rest = governing.travel_for(np.array([(friction + windage) / best]))[0]
    slope = best * np.exp(-rest / curve) / curve / (1.0 - np.exp(-1.0 / curve))
    matrix = np.array(
        [
            [-2.0 * spin * windage, spin, 0.0, 0.0],
            [0.0, -1.0 / lag, slope / lag, 0.0],
            [0.0, 0.0, 0.0, 1.0],
            [-arm * arm / droop, 0.0, -arm * arm, -damping],
        ]
    )
    return np.asarray(eigvals(matrix))


CASES = [(spin, droop) for spin in (0.5, 1.0, 2.0, 4.0, 6.0) for droop in (0.03, 0.05, 0.08, 0.12, 0.2)]


def test_the_time_course_flutters_exactly_where_the_linear_loop_is_unstable() -> None:
    spin, droop = (np.array(values) for values in zip(*CASES, strict=True))
    swings = hunting.simulate(np.full(len(CASES), 1.15), spin, droop, np.zeros(len(CASES))).swing_share
    growth = np.array([loop_eigenvalues(*case).real.max() for case in CASES])
    clear = np.abs(growth) > 0.9  # near the edge a finite run cannot tell
    assert clear.sum() >= 18
    assert np.any(growth[clear] > 0.0)
    assert np.array_equal(swings[clear] > 0.002, growth[clear] > 0.0)


def test_flutter_has_the_pace_of_the_linear_loop() -> None:
    # Just past the edge the swing is small, and the loop is nearly the linear one.
    found = 0
    for spin, droop in CASES:
        values = loop_eigenvalues(spin, droop)
        worst = values[np.argmax(values.real)]
        if 0.9 < worst.real < 4.0:
            pace = hunting.simulate(*(np.array([v]) for v in (1.15, spin, droop, 0.0))).hertz[0]
            assert pace == pytest.approx(abs(worst.imag) / (2.0 * np.pi), rel=0.2)
            found += 1
    assert found >= 2


@pytest.mark.parametrize(("name", "percent"), [("G1", 8.0), ("G2", 5.0), ("G3", 3.0)])
def test_droop_classes_follow_from_the_travel(name: str, percent: float) -> None:
    # ISO 8528-5 droop classes 8, 5 and 3 % (from memory): full load at nine tenths of the travel or less.
    droop = np.array([percent / 100.0])
    full = np.array([0.9 - constants.value("friction_share") - constants.value("no_load_share")])
    fall = 100.0 * (1.0 - governing.governed_share(full, np.ones(1), droop)[0])
    assert 0.3 * percent < fall < percent, name


def test_lean_hunting_comes_once_or_twice_a_second() -> None:
    # 1-2 Hz: common practice, no published source; wide band.
    phi = np.linspace(0.5, 0.66, 9)
    swing = hunting.simulate(phi, np.full(9, 1.0), np.full(9, 0.12), np.full(9, 0.02))
    assert np.all((swing.hertz > 0.5) & (swing.hertz < 2.5))


def test_a_mower_droops_a_few_per_cent_at_half_load() -> None:
    # Common practice: a sound mower falls by some 100-250 r/min in grass, no source.
    load = np.array([0.5 * 0.6 * 0.7])
    fall = 1.0 - governing.governed_share(load, np.full(1, 0.95), np.array([0.12]))[0]
    assert 0.01 < fall < 0.08
