"""Steady speed: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, governing

ONE = np.ones(1)
DROOP = np.array([0.1])


@given(st.floats(0.0, 1.0))
def test_travel_and_torque_undo_each_other(travel: float) -> None:
    back = governing.travel_for(governing.torque_at(np.array([travel])))
    assert back[0] == pytest.approx(travel, abs=1e-9)


def test_set_speed_at_rest_and_full_droop_at_the_end_of_the_travel() -> None:
    none = governing.governed_share(np.zeros(1), ONE, DROOP)[0]
    rest = governing.travel_for(np.array([constants.value("friction_share") + constants.value("no_load_share")]))[0]
    all_of_it = 1.0 - constants.value("friction_share") - constants.value("no_load_share")
    full = governing.governed_share(np.array([all_of_it]), ONE, DROOP)[0]
    assert none == pytest.approx(1.0)
    assert full == pytest.approx(1.0 - 0.1 * (1.0 - rest))


@given(st.floats(0.0, 0.6), st.floats(0.01, 0.3), st.floats(0.4, 1.1))
def test_more_load_never_speeds_it_up_and_more_strength_never_slows_it(
    load: float, more: float, strength: float
) -> None:
    at = np.array([load, load + more])
    speed = governing.governed_share(at, np.full(2, strength), np.full(2, 0.1))
    stronger = governing.governed_share(at, np.full(2, strength + 0.1), np.full(2, 0.1))
    assert speed[1] <= speed[0] + 1e-12
    assert np.all(stronger >= speed - 1e-12)


def test_an_overloaded_engine_sags_far_below_its_droop() -> None:
    assert governing.governed_share(np.array([1.2]), ONE, DROOP)[0] < 0.85


def test_a_throttle_that_can_close_does_not_run_away() -> None:
    closed, half, open_ = governing.runaway_share(np.array([0.0, 0.3, 1.0]), np.ones(3))
    assert closed < 1.0
    assert half > 1.1
    assert open_ == pytest.approx(constants.value("runaway_share"))


def test_a_spring_of_a_quarter_of_the_pull_sets_half_the_speed() -> None:
    assert governing.set_speed_rpm(np.array([3000.0]), np.array([0.25]), np.zeros(1))[0] == pytest.approx(1500.0)


def test_an_inward_hole_is_nervous_and_an_outward_hole_lazy() -> None:
    nervous, right, lazy = governing.droop_share(0.1, np.ones(3), np.array([1.0, 0.0, -1.0]))
    assert nervous < right < lazy


@given(st.floats(0.2, 3.0), st.floats(0.2, 1.2))
def test_idle_rises_with_air_and_with_strength(air: float, strength: float) -> None:
    base = governing.idle_share(np.array([air]), np.array([strength]))[0]
    assert governing.idle_share(np.array([air + 0.1]), np.array([strength]))[0] > base
    assert governing.idle_share(ONE, ONE)[0] == pytest.approx(1.0)


def test_a_tenth_too_fast_is_an_even_chance_of_danger() -> None:
    assert governing.overspeed_chance(np.array([3300.0]), 3000.0)[0] == pytest.approx(0.5)
