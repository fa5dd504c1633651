"""Fuel supply and volatility: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, fuel

SOUND = {place: np.ones(1) for place in ("needle", "hose", "filter", "tap", "pickup")}


def test_a_sound_gravity_feed_gives_its_own_flow() -> None:
    assert fuel.gravity_flow_share(SOUND, np.ones(1))[0] == pytest.approx(1.0)


@given(st.floats(0.01, 0.99), st.floats(0.001, 0.99))
def test_a_more_blocked_filter_never_lets_more_through(free: float, share: float) -> None:
    less = fuel.gravity_flow_share(SOUND | {"filter": np.array([free * share])}, np.ones(1))
    more = fuel.gravity_flow_share(SOUND | {"filter": np.array([free])}, np.ones(1))
    assert less[0] <= more[0] <= 1.0


def test_a_nearly_blocked_place_alone_sets_the_flow() -> None:
    flow = fuel.gravity_flow_share(SOUND | {"tap": np.array([0.01])}, np.ones(1))[0]
    assert flow == pytest.approx(0.01 / np.sqrt(constants.value("tap_loss_share")), rel=0.01)


def test_a_shut_vent_ends_the_flow_and_an_open_one_does_not_hinder_it() -> None:
    flow, head = np.full(2, 130.0), np.full(2, 200.0)
    lasting = fuel.lasting_flow_ml_min(flow, np.array([0.0, 3.0]), head)
    assert lasting[0] < 1e-3
    assert lasting[1] == pytest.approx(130.0, rel=1e-2)


def test_an_engine_that_gets_enough_never_starves() -> None:
    assert fuel.starves_after_s(np.array([35.0]), np.array([10.0]), np.array([10.0]))[0] == 3600.0


def test_a_bowl_of_35_millilitres_lasts_three_minutes_at_700_millilitres_an_hour() -> None:
    time = fuel.starves_after_s(np.array([35.0]), np.array([700.0 / 60.0]), np.zeros(1))[0]
    assert time == pytest.approx(180.0)


@given(st.floats(0.0, 0.9), st.floats(0.0, 0.09))
def test_fuel_that_lost_more_has_less_vapour_pressure(lost: float, more: float) -> None:
    before, after = fuel.volatility_left(np.array([lost, lost + more]))
    assert 0.0 < after <= before <= 1.0


@given(st.floats(-20.0, 45.0), st.floats(0.5, 10.0), st.floats(5.0, 90.0))
def test_warmth_evaporates_more_and_a_share_stays_a_share(warm: float, supply: float, rvp: float) -> None:
    at = np.array([warm, warm + 5.0])
    share = fuel.evaporated_share(np.full(2, supply), at, np.full(2, rvp), 101.325)
    assert 0.0 <= share[0] <= share[1] <= 1.0


@given(st.floats(-10.0, 30.0), st.floats(0.8, 5.0))
def test_stale_fuel_gives_less_vapour(warm: float, supply: float) -> None:
    share = fuel.evaporated_share(np.full(3, supply), np.full(3, warm), np.array([10.0, 30.0, 62.0]), 101.325)
    rises = np.diff(share)
    # Where all of it evaporates there is nothing left to gain.
    assert np.all((rises > 0.0) | ((rises == 0.0) & (share[:-1] == 1.0)))


def test_winter_fuel_boils_in_a_hot_line_and_flat_fuel_does_not() -> None:
    chance = fuel.vapour_lock_chance(np.array([95.0, 30.0]), np.full(2, 60.0), 101.325)
    assert chance[0] > 0.95
    assert chance[1] < 0.05


def test_thin_air_boils_fuel_sooner() -> None:
    low, high = (fuel.vapour_lock_chance(np.array([75.0]), np.array([45.0]), kpa)[0] for kpa in (101.0, 75.0))
    assert high > low


def test_a_bowl_fills_in_step_with_the_trickle_and_not_beyond_full() -> None:
    at = fuel.bowl_fill(np.array([0.0, 0.02, 0.04, 5.0]), 35.0, 360.0)
    assert at[0] == 0.0
    assert at[2] == pytest.approx(2.0 * at[1])
    assert at[3] == 1.0
