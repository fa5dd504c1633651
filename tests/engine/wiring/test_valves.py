"""What is seen and heard of valves, cam and release."""

from __future__ import annotations

from dataclasses import replace

from firstpull.engine.vocabulary.types import Arrangement
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, TWO_STROKE, shown

OPEN = Arrangement(off=frozenset({"rocker-cover", "plug-lead", "plug"}))


def test_a_feeler_finds_the_lash_and_nothing_when_tight() -> None:
    assert shown("exhaust_lash_now_mm", OPEN, {"exhaust_lash_mm": [-0.05, 0.15, 0.5]}).tolist() == [0.0, 0.15, 0.5]


def test_lash_moves_when_hot() -> None:
    hot = shown("intake_lash_now_mm", replace(OPEN, thermal="hot"), {"hot_lash_shift_mm": [-0.03, 0.03]})
    cold = shown("intake_lash_now_mm", OPEN)[0]
    assert hot[0] < cold < hot[1]


def test_a_dead_pushrod_and_a_stuck_valve_do_not_move() -> None:
    moved = shown("exhaust_lift_seen_mm", OPEN, {"exhaust_lift_share": [1.0, 0.0]})
    stuck = shown("exhaust_lift_seen_mm", OPEN, {"exhaust_hang_mm": [0.0, 4.0]})
    assert moved[0] > 4.0 > 0.5 > moved[1]
    assert stuck[1] < 0.3 * stuck[0]


def test_the_release_lift_is_small_lost_to_lash_and_missing_where_there_is_none() -> None:
    lift = shown("release_lift_mm", OPEN, {"exhaust_lash_mm": [0.15, 0.3, 0.6]})
    assert 0.2 < lift[0] < 0.5
    assert lift[0] > lift[1] > lift[2] == 0.0
    assert shown("release_lift_mm", OPEN, sizes={"compression_release": "none"})[0] == 0.0


def test_loose_lash_ticks() -> None:
    quiet, loud = shown("valve_tick", AT_WORK, {"exhaust_lash_mm": [0.15, 0.6]})
    assert quiet < 0.05 < 0.9 < loud


def test_an_intake_valve_that_stands_open_spits_back() -> None:
    shut, open_ = shown("valve_spit_back", AS_BROUGHT, {"intake_hang_mm": [0.0, 1.0]})
    assert shut < 0.05 < 0.9 < open_


def test_an_engine_with_ports_shows_no_valves() -> None:
    for name in ("intake_lash_now_mm", "exhaust_lift_seen_mm", "valve_spit_back"):
        assert shown(name, AS_BROUGHT, {"intake_hang_mm": 1.0}, TWO_STROKE)[0] == 0.0
