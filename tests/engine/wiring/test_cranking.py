"""What spins the crank, and how fast."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.healthy_mowers import AT_TESTER, HEALTHY, HELD, PULLED, by, shown, with_fault


def test_a_usual_pull_turns_a_mower_at_about_550_a_minute_with_the_plug_in() -> None:
    rpm = shown("crank_rpm")
    assert 500.0 < float(np.median(rpm)) < 600.0
    assert 0.08 < float(np.std(np.log(rpm))) < 0.2


def test_a_lazy_pull_is_about_six_tenths_of_a_usual_one() -> None:
    np.testing.assert_allclose(shown("crank_rpm", arrangement=by("lazy-rope", PULLED)) / shown("crank_rpm"), 0.6)


def test_the_plug_out_frees_the_pull() -> None:
    out = replace(PULLED, off=frozenset({"plug"}))
    assert (shown("crank_rpm", arrangement=out) > 1.05 * shown("crank_rpm")).all()


def test_the_brake_on_makes_the_rope_stiff() -> None:
    let_go = replace(PULLED, added=frozenset())
    braked, free = shown("crank_rpm", arrangement=let_go), shown("crank_rpm")
    assert float(np.nanmedian(braked / free)) < 0.8
    assert (shown("rope_drag_n", arrangement=let_go) > 1.5 * shown("rope_drag_n")).all()


def test_cold_thick_oil_slows_the_pull() -> None:
    cold = shown("crank_rpm", conditions=Conditions(air_c=-15.0))
    assert (cold < shown("crank_rpm")).all()


def test_the_drill_turns_at_its_own_speed() -> None:
    plug_out = replace(AT_TESTER, drive="drill", off=frozenset({"plug"}))
    rpm = shown("crank_rpm", arrangement=plug_out, setup=Setup({"drill_rpm": 800.0}))
    np.testing.assert_allclose(rpm, 800.0, rtol=1e-6)


def test_the_rope_is_lost_with_the_cover_it_sits_in() -> None:
    open_cover = replace(PULLED, off=frozenset({"shroud"}))
    assert float(shown("turns", arrangement=open_cover).max()) < 0.01
    assert float(shown("turns", arrangement=open_cover, sizes={"rope_in_cover": "no"}).min()) > 0.99


def test_a_ride_on_with_a_key_has_no_rope_to_pull() -> None:
    ride_on: dict[str, float | str] = {"rope_in_cover": "no", "electric_start": "yes"}
    assert float(shown("turns", sizes=ride_on).max()) < 0.01
    assert float(np.median(shown("start_chance", arrangement=Arrangement(), sizes=ride_on))) > 0.9


@pytest.mark.parametrize(
    "draws", [{"rope_broken": 1.0}, {"pawl_slip": 0.95}, {"cup_slip": 0.95}, {"seizure": 1.0}],
    ids=["rope broken", "pawls do not catch", "cup slips", "seized"],
)  # fmt: skip
def test_what_breaks_the_rope_starter_or_locks_the_crank_turns_nothing(draws: dict[str, float]) -> None:
    assert float(shown("turns", with_fault(**draws)).max()) < 0.5


def test_slipping_pawls_are_felt_and_a_drill_does_not_need_them() -> None:
    fault = with_fault(pawl_slip=0.95)
    assert float(shown("rope_slips", fault).min()) > 0.9
    assert float(shown("rope_slips").max()) < 0.01
    assert float(shown("turns", fault, by("drill", PULLED)).min()) > 0.99


def test_a_cylinder_full_of_fuel_locks_until_the_plug_is_out() -> None:
    fault = with_fault(cylinder_fuel_cm3=60.0)
    assert float(shown("turns", fault).max()) < 0.5
    assert float(shown("turns", fault, replace(PULLED, off=frozenset({"plug"}))).min()) > 0.5


def test_a_weak_rewind_spring_or_a_rough_reel_leaves_the_rope_out() -> None:
    assert float((shown("rope_return") > 0.7).mean()) > 0.995
    slow = shown("rope_return", with_fault(rewind_strength=Spread("uniform", 0.3, 0.5)))
    assert float(((slow > 0.3) & (slow < 0.8)).mean()) > 0.9
    for draws in ({"rewind_strength": 0.0}, {"reel_drag_nm": 2.0}, {"rope_off_reel": 1.0}):
        assert float(np.median(shown("rope_return", with_fault(**draws)))) < 0.3
        assert float(shown("rope_stays_out", with_fault(**draws)).min()) > 0.55


def test_an_overwound_spring_stops_the_rope_short_and_the_pull_is_slower() -> None:
    fault = with_fault(rewind_overwound=1.0)
    assert float(shown("rope_length_share", fault).max()) < 0.4
    assert (shown("crank_rpm", fault) < shown("crank_rpm")).all()


def test_more_reel_friction_never_speeds_the_pull() -> None:
    speeds = [float(np.mean(shown("crank_rpm", with_fault(reel_drag_nm=drag)))) for drag in (0.1, 0.5, 1.0, 2.0)]
    assert (np.diff(speeds) < 0.0).all()
    assert np.isnan(shown("crank_rpm", with_fault(reel_drag_nm=12.0))).all()


def test_broken_teeth_or_a_cracked_cup_grate() -> None:
    assert float(shown("starter_grating").max()) == 0.0
    assert float(shown("starter_grating", with_fault(ring_teeth_lost=0.6)).min()) == 0.6


def test_a_flat_battery_turns_nothing() -> None:
    electric: dict[str, float | str] = {"electric_start": "yes"}
    key = Arrangement(added=HELD, drive="starter")
    assert float((shown("turns", HEALTHY, key, electric) > 0.5).mean()) > 0.99
    flat = with_fault(battery_charge=0.0, battery_ohm=Spread("uniform", 0.5, 1.0))
    assert float((shown("turns", flat, key, electric) > 0.5).mean()) < 0.05


def test_a_held_crank_does_not_turn() -> None:
    assert float(shown("turns", arrangement=replace(PULLED, added=HELD | {"crank-held"})).max()) < 0.01


def test_a_broken_rope_neither_slips_nor_stays_out() -> None:
    broken = with_fault(rope_broken=1.0)
    for name in ("rope_slips", "rope_stays_out", "rope_return"):
        assert np.isnan(shown(name, broken)).all(), name
        assert not np.isnan(shown(name)).any(), name
    assert float(np.max(shown("rope_length_share", broken))) == 0.0
    assert float(np.max(shown("turns", broken))) < 0.01
