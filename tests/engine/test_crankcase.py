"""Does the crankcase hold, breathe, pump."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import crankcase

SEA, ROOM = np.full(1, 101325.0), np.full(1, 293.15)


def held(area: float, seconds: float = 10.0, volume: float = 100e-6) -> float:
    return float(crankcase.pressure_left(48e3, seconds, np.full(1, area), volume, SEA, ROOM)[0])


def sucked(area: float, seconds: float = 10.0) -> float:
    return float(crankcase.vacuum_left(40e3, seconds, np.full(1, area), 100e-6, SEA, ROOM)[0])


def test_a_tight_crankcase_keeps_all_of_it() -> None:
    assert held(0.0) == pytest.approx(48e3, rel=1e-9)
    assert sucked(0.0) == pytest.approx(40e3, rel=1e-9)


@given(st.floats(0.0, 20.0), st.floats(0.0, 5.0), st.floats(0.1, 60.0))
def test_a_larger_hole_never_holds_better(area: float, more: float, seconds: float) -> None:
    assert -1e-6 <= held(area + more, seconds) <= held(area, seconds) + 1e-6
    assert -1e-6 <= sucked(area + more, seconds) <= sucked(area, seconds) + 1e-6


def test_two_short_watches_make_one_long_one() -> None:
    first = held(0.003, 4.0)
    then = float(crankcase.pressure_left(first, 6.0, np.full(1, 0.003), 100e-6, SEA, ROOM)[0])
    assert then == pytest.approx(held(0.003, 10.0), rel=1e-9)


def test_a_larger_crankcase_holds_longer() -> None:
    assert held(0.01, volume=200e-6) > held(0.01, volume=100e-6)


def test_a_soft_joint_seals_a_hair_but_not_a_gap() -> None:
    hair, gap = crankcase.static_joint(np.array([0.05, 5.0]))
    assert hair < 0.01 * 0.05
    assert gap > 0.75 * 5.0


def test_a_leaking_reed_costs_most_at_pulling_speed() -> None:
    slow, fast = crankcase.scavenged(np.full(2, 20.0), 100e-6, np.array([700.0, 8000.0]), 330.0)
    assert slow < 0.8
    assert fast > 0.9


def test_worn_rings_and_a_stuck_breather_turn_vacuum_into_pressure() -> None:
    blow, blocked = np.array([0.12, 1.5, 0.12]), np.array([0.0, 0.0, 0.9])
    vacuum = crankcase.running_vacuum(blow, blocked, np.zeros(3), np.zeros(3))
    assert vacuum[0] > 1.0
    assert vacuum[1] < 0.0
    assert vacuum[2] < 0.0


def test_a_breather_without_its_disc_draws_no_vacuum() -> None:
    vacuum = crankcase.running_vacuum(np.full(2, 0.1), np.zeros(2), np.array([0.0, 1.0]), np.zeros(2))
    assert vacuum[0] > 1.5
    assert vacuum[1] <= 0.0


def test_bubbles_come_with_the_hole_they_come_from() -> None:
    none, some = crankcase.bubbles(np.array([0.0, 0.1]), 48e3, np.full(2, 101325.0), np.full(2, 293.15))
    assert none == 0.0
    assert some > 100.0
