"""Fuel faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement, Conditions

Look = Callable[..., NDArray[np.float64]]
PULSE: dict[str, float | str] = {
    "carburettor": "diaphragm", "fuel_feed": "pulse", "cycle": "two-stroke", "valve_gear": "ports", "bowl_ml": 3.0,
    "governor_kind": "none", "driven_load": "cutter", "clutch": "yes", "brake": "no", "operator_presence": "no",
    "displacement_cm3": 27.0, "fuel_use_ml_h": 450.0, "rope_in_cover": "no",
}  # fmt: skip


def off(arrangement: Arrangement, *tokens: str) -> Arrangement:
    return replace(arrangement, off=arrangement.off | set(tokens))


def added(arrangement: Arrangement, *tokens: str) -> Arrangement:
    return replace(arrangement, added=arrangement.added | set(tokens))


def test_a_sound_mower_gets_its_fuel_and_runs_on(shown: Look, running: Arrangement, pulled: Arrangement) -> None:
    assert 100.0 < shown("fuel_flow_ml_min")[0] < 150.0
    assert shown("fuel_arrives", pulled)[0] > 0.95
    assert shown("dies_after_s", running)[0] == 3600.0


def test_drained_fuel_hose_off_or_bowl_off_mean_no_fuel(shown: Look, pulled: Arrangement) -> None:
    for token in ("fuel", "fuel-hose", "bowl", "carburettor"):
        assert shown("fuel_arrives", off(pulled, token))[0] == 0.0


def test_a_shut_tap_lets_it_run_for_minutes_on_its_bowl(shown: Look, running: Arrangement) -> None:
    shut = off(running, "fuel-tap")
    assert shown("would_run", shut)[0] > 0.5
    assert 60.0 < shown("dies_after_s", shut)[0] < 600.0
    assert shown("fuel_flow_ml_min", shut)[0] == 0.0


def test_a_shut_vent_dies_after_minutes_and_recovers_with_the_cap_loose(shown: Look, running: Arrangement) -> None:
    full = replace(running, load="full")
    vent = 0.0005
    assert 90.0 < shown("dies_after_s", full, cap_vent_mm2=vent)[0] < 900.0
    assert shown("dies_after_s", off(full, "fuel-cap"), cap_vent_mm2=vent)[0] == 3600.0
    assert shown("cap_recovers", full, cap_vent_mm2=vent)[0] > 0.8
    assert shown("cap_whoosh_kpa", full, cap_vent_mm2=vent)[0] > 0.5
    assert shown("cap_recovers", full)[0] == 0.0


def test_a_blocked_filter_starves_at_load_and_the_cap_does_not_help(shown: Look, running: Arrangement) -> None:
    full = replace(running, load="full")
    blocked = {"fuel_filter_open": 0.02}
    assert shown("dies_after_s", full, **blocked)[0] < 900.0
    assert shown("cap_recovers", full, **blocked)[0] == 0.0
    assert shown("dies_on_load", running, **blocked)[0] > 0.8
    assert shown("would_run", running, **blocked)[0] > 0.5


def test_fresh_fuel_from_a_can_answers_for_everything_upstream(shown: Look, running: Arrangement) -> None:
    can = added(replace(running, load="full"), "fresh-fuel")
    for fault in ({"tap_shut": 1.0}, {"fuel_level": 0.0}, {"water_in_fuel": 0.5}, {"diesel_share": 0.8}):
        assert shown("would_run", running, **fault)[0] < 0.5
        assert shown("would_run", can, **fault)[0] > 0.5
    assert shown("would_run", can, needle_stuck_shut=1.0)[0] < 0.5


def test_priming_feeds_the_first_firings_only(shown: Look, pulled: Arrangement, running: Arrangement) -> None:
    dry = {"needle_stuck_shut": 1.0}
    assert shown("start_mixture_phi", pulled, **dry)[0] < 0.05
    primed = added(replace(pulled, choke="open"), "primed")
    assert 0.7 < shown("start_mixture_phi", primed, **dry)[0] < 3.0
    assert shown("fires_on_prime", pulled, **dry)[0] > 0.6
    assert shown("would_run", added(running, "primed"), **dry)[0] < 0.5


def test_a_dead_spark_does_not_fire_on_prime(shown: Look, pulled: Arrangement) -> None:
    assert shown("fires_on_prime", pulled, module_alive=0.0)[0] < 0.05


def test_water_shows_in_the_jar_and_stops_it_sooner_the_more_there_is(shown: Look, running: Arrangement) -> None:
    assert shown("jar_layer_share", water_in_fuel=0.2)[0] == pytest.approx(0.2)
    some, much = shown("dies_after_s", running, water_in_fuel=[0.1, 0.5])
    assert much < some < 3600.0


def test_winter_fuel_without_its_heat_shield_dies_hot_and_does_not_restart(shown: Look, pulled: Arrangement) -> None:
    fault = {"heat_shield_missing": 1.0, "fuel_rvp_kpa": 90.0}
    day = Conditions(air_c=28.0)
    hot = replace(pulled, thermal="hot", choke="open")
    assert shown("dies_after_s", replace(pulled, drive="running", choke="open"), conditions=day, **fault)[0] == 900.0
    assert shown("fuel_arrives", hot, conditions=day, **fault)[0] < 0.3
    assert shown("fuel_arrives", replace(pulled, thermal="cold"), conditions=day, **fault)[0] > 0.7


def test_a_torn_pump_diaphragm_gives_little_and_bogs(shown: Look, running: Arrangement) -> None:
    sound, torn = shown("fuel_flow_ml_min", sizes=PULSE, pulse_diaphragm_tear=[0.0, 0.95])
    assert torn < 0.2 * sound
    assert shown("bogs", running, PULSE, pulse_diaphragm_tear=0.95)[0] > 0.5
    assert shown("bogs", running, PULSE, pulse_line_open=0.05)[0] > 0.5


def test_a_cracked_bulb_does_not_fill_and_crossed_lines_neither(shown: Look) -> None:
    assert shown("primer_fills", sizes=PULSE)[0] > 0.9
    assert shown("primer_fills", sizes=PULSE, primer_bulb_crack=1.0)[0] < 0.1
    assert shown("primer_fills", sizes=PULSE, lines_crossed=1.0)[0] < 0.1


def test_a_cracked_hose_drips_on_a_gravity_feed(shown: Look) -> None:
    assert shown("fuel_drip_ml_min")[0] < 0.1
    assert shown("fuel_drip_ml_min", fuel_hose_crack=0.8)[0] > 5.0
    assert shown("fuel_drip_ml_min", bowl_gasket_leak=0.6)[0] > 2.0


def test_old_fuel_smells(shown: Look) -> None:
    fresh, old = shown("fuel_smell", fuel_age_d=[10.0, 400.0])
    assert fresh < 0.1
    assert old > 0.9


def test_what_stops_it_hot_is_told_in_minutes(shown: Look, running: Arrangement) -> None:
    cold = replace(running, thermal="cold")
    told = shown("dies_after_s", cold, module_opens_c=40.0)[0]
    assert 300.0 < told < 3600.0


def test_a_nearly_empty_bowl_starts_like_a_full_one_and_dies_after_seconds(shown: Look, pulled: Arrangement) -> None:
    needle = {"needle_stuck_shut": [0.0, 0.9998, 1.0]}
    full, little, empty = shown("fuel_arrives", pulled, **needle)
    assert little > 0.8 * full
    assert empty < 0.05
    full, little, _ = shown("dies_after_s", pulled, **needle)
    assert full == 3600.0
    assert 8.0 < little < 75.0


def test_a_full_bowl_with_the_feed_shut_runs_some_minutes(shown: Look, running: Arrangement) -> None:
    shut = replace(running, off=frozenset({"fuel-tap"}))
    unloaded, loaded = shown("dies_after_s", shut)[0], shown("dies_after_s", replace(shut, load="full"))[0]
    assert 120.0 < unloaded < 600.0
    assert 60.0 < loaded < unloaded
