"""Hunting: what swings, how fast, and that the grid says what the time course says."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import constants, hunting

MOWER_SPIN, MOWER_DROOP = 1.0, 0.12


def mower(phi: float, spin: float = MOWER_SPIN, droop: float = MOWER_DROOP, play: float = 0.02) -> hunting.Swing:
    return hunting.simulate(*(np.array([value]) for value in (phi, spin, droop, play)))


def test_a_sound_engine_is_steady() -> None:
    assert mower(1.15).swing_share[0] * 3050 < 10.0


def test_a_lean_idle_circuit_hunts_about_once_a_second() -> None:
    swing = mower(0.6)
    assert swing.swing_share[0] * 3050 > 50.0
    assert 0.5 < swing.hertz[0] < 2.5


def test_part_choke_cures_a_lean_hunt() -> None:
    assert mower(0.6 * 1.3).swing_share[0] < 0.1 * mower(0.6).swing_share[0]


def test_a_nervous_governor_without_its_blade_flutters_fast() -> None:
    swing = mower(1.15, spin=5.0, droop=0.04)
    assert swing.swing_share[0] * 3050 > 20.0
    assert 3.0 < swing.hertz[0] < 7.0


def test_a_heavy_rotor_hunts_more_slowly_than_a_light_one() -> None:
    assert mower(0.6, spin=0.4).hertz[0] < mower(0.6, spin=3.0).hertz[0]


def test_the_grid_gives_back_its_own_points() -> None:
    picked = [
        (p, s, d, q)
        for p in hunting.PHI[::4]
        for s in hunting.SPIN[::2]
        for d in hunting.DROOP[1::2]
        for q in (0.0, 0.2)
    ]
    at = np.array(picked).T
    told, found = hunting.simulate(*at), hunting.swing_of(*at)
    assert found.swing_share == pytest.approx(told.swing_share, abs=1e-9)


def test_between_the_points_the_grid_stays_near_the_time_course() -> None:
    draw = np.random.default_rng(7)
    at = [draw.uniform(low, high, 300) for low, high in ((0.45, 1.2), (0.5, 4.0), (0.06, 0.18), (0.0, 0.25))]
    told, found = hunting.simulate(*at).swing_share * 3050, hunting.swing_of(*at).swing_share * 3050
    assert np.median(np.abs(found - told)) < 5.0
    assert np.quantile(np.abs(found - told), 0.9) < 35.0
    # The edge between hunting and not lies between two points of the grid for a few.
    assert np.mean((found > 40.0) == (told > 40.0)) > 0.85


def test_a_finer_time_step_tells_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    coarse = mower(0.6)
    monkeypatch.setattr(hunting, "STEP_S", 0.002)
    monkeypatch.setattr(hunting, "SETTLE_STEPS", 1800)
    monkeypatch.setattr(hunting, "WATCH_STEPS", 3000)
    fine = mower(0.6)
    assert fine.swing_share[0] == pytest.approx(coarse.swing_share[0], rel=0.1)
    assert fine.hertz[0] == pytest.approx(coarse.hertz[0], rel=0.15)


def test_another_world_has_another_grid() -> None:
    at = [np.array([value]) for value in (0.6, 1.0, 0.12, 0.0)]
    here = hunting.swing_of(*at).swing_share[0]
    with constants.shifted({"main_starts_at": 1.3}):
        there = hunting.swing_of(*at).swing_share[0]
    assert there > 1.05 * here
    assert hunting.swing_of(*at).swing_share[0] == here
