"""Lash, hanging valves, seats, cam and release as areas and angles."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import valves


def test_lash_moves_only_when_hot() -> None:
    lash, shift = np.array([0.1]), np.array([0.03])
    assert valves.lash_now(lash, shift, False)[0] == 0.1
    assert valves.lash_now(lash, shift, True)[0] == pytest.approx(0.13)


def test_a_valve_on_its_seat_leaves_no_opening() -> None:
    assert valves.open_area(np.array([-1.0, 0.0]), 22.0).tolist() == [0.0, 0.0]


def test_three_hundredths_of_lift_open_more_than_a_worn_ring() -> None:
    assert 1.0 < valves.open_area(np.array([0.03]), 22.0)[0] < 2.0


def test_a_valve_wide_open_is_no_larger_than_its_port() -> None:
    wide = valves.open_area(np.array([8.0, 9.0]), 22.0)
    assert wide[0] == wide[1] == pytest.approx(0.8 * np.pi / 4 * 22.0**2)


def test_lash_takes_the_release_away() -> None:
    lash = np.array([0.15, 0.25, 0.45, 0.8])
    areas = valves.release_area(13.0, np.ones(4), lash, 0.15, np.full(4, 500.0), 1150.0)
    assert areas[0] == pytest.approx(13.0, rel=1e-3)
    assert areas[0] > areas[1] > areas[2]
    assert areas[3] == 0.0


def test_the_release_lets_go_at_running_speed() -> None:
    slow, fast = valves.release_area(13.0, np.ones(2), np.full(2, 0.15), 0.15, np.array([500.0, 3000.0]), 1150.0)
    assert slow > 12.0
    assert fast < 1e-6


def test_a_dead_pushrod_lets_hardly_any_charge_in_and_half_lift_nearly_all() -> None:
    none, half, full = valves.filling(np.array([0.0, 0.5, 1.0]), np.full(3, 0.12), 5.0)
    assert none <= 0.05
    assert half > 0.95 * full


def test_a_loose_seat_leaks_more_when_hot() -> None:
    loose = np.array([0.5])
    assert valves.seat_leak(loose, True)[0] > valves.seat_leak(loose, False)[0] > 0.0


def test_a_late_cam_closes_the_cylinder_later() -> None:
    early, right, late = valves.closing_angle(130.0, np.array([-20.0, 0.0, 20.0]), np.full(3, 0.12))
    assert early > right > late
    assert right == pytest.approx(130.0)


def test_any_cam_error_leaves_a_possible_angle() -> None:
    angles = valves.closing_angle(130.0, np.array([-180.0, 180.0]), np.full(2, 6.0))
    assert (angles >= 20.0).all()
    assert (angles <= 178.0).all()
