"""Mixture, carburettor and air faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

Look = Callable[..., NDArray[np.float64]]


def test_a_sound_mower_starts_choked_and_runs_slightly_rich(
    shown: Look, running: Arrangement, pulled: Arrangement
) -> None:
    assert 1.0 < shown("start_mixture_phi", pulled)[0] < 2.5
    assert 1.0 < shown("run_mixture_phi", running)[0] < 1.3
    assert shown("black_smoke", running)[0] < 0.05
    assert shown("bogs", running)[0] < 0.05


def test_without_choke_a_cold_start_is_lean_and_a_hot_one_is_not(shown: Look, pulled: Arrangement) -> None:
    opened = replace(pulled, choke="open")
    assert shown("start_mixture_phi", opened)[0] < 0.68
    assert shown("start_mixture_phi", replace(opened, thermal="hot"))[0] > 0.75
    assert shown("start_mixture_phi", pulled, choke_closes=0.3)[0] < 0.72


def test_frost_and_stale_fuel_take_the_vapour(shown: Look, pulled: Arrangement) -> None:
    fresh, stale = shown("start_mixture_phi", pulled, fuel_lost_share=[0.02, 0.4])
    cold = shown("start_mixture_phi", pulled, conditions=Conditions(air_c=-15.0))[0]
    assert stale < 0.85 * fresh
    assert cold < 0.6 * fresh


def test_a_float_bowl_that_stood_starts_worse_than_its_tank_and_a_diaphragm_does_not(
    shown: Look, pulled: Arrangement
) -> None:
    stood = {"fuel_age_d": [10.0, 200.0]}
    kept, old = shown("start_mixture_phi", pulled, **stood)
    fed, same = shown("start_mixture_phi", pulled, sizes={"carburettor": "diaphragm", "tank_litre": 5.0}, **stood)
    assert old < 0.8 * kept
    assert same > 0.9 * fed
    hot = shown("start_mixture_phi", replace(pulled, thermal="hot"), **stood)
    assert hot[1] > 0.9 * hot[0]  # an engine that has run has changed its bowl


def test_the_bulb_beside_a_choke_helps_in_the_cold_only_and_only_where_it_squirts(
    shown: Look, pulled: Arrangement
) -> None:
    with_bulb = {"primer": "yes", "choke_kind": "choke"}
    for air_c, least in ((-10.0, 1.08), (20.0, 1.0)):
        day = Conditions(air_c=air_c)
        sound = shown("start_mixture_phi", pulled, sizes=with_bulb, conditions=day)[0]
        cracked = shown("start_mixture_phi", pulled, sizes=with_bulb, conditions=day, primer_bulb_crack=1.0)[0]
        assert sound >= least * cracked
        assert sound < 1.5 * cracked
    purge = {**with_bulb, "carburettor": "diaphragm", "fuel_feed": "gravity"}
    sound, cracked = shown("start_mixture_phi", pulled, sizes=purge, conditions=Conditions(air_c=-10.0),
                           primer_bulb_crack=[0.0, 1.0])  # fmt: skip
    assert sound == cracked


def test_winter_petrol_lets_a_snow_blower_start_in_frost(shown: Look, pulled: Arrangement) -> None:
    frost = Conditions(air_c=-10.0)
    snow: dict[str, float | str] = {"primer": "yes", "displacement_cm3": 208.0, "compression_ratio": 8.3}
    summer, winter = shown("start_chance", pulled, sizes=snow, conditions=frost, fuel_rvp_kpa=[55.0, 80.0])
    assert winter > 0.9
    assert summer < winter


def test_misuse_of_the_choke_is_the_owners_and_not_the_shops(shown: Look, pulled: Arrangement) -> None:
    told = shown("start_mixture_phi", pulled, setup=Setup({"by_user": 1.0}), choke_misused=1.0)[0]
    tried = shown("start_mixture_phi", pulled, choke_misused=1.0)[0]
    assert told < 0.7
    assert tried > 1.0


def test_a_blocked_main_jet_dies_on_opening_the_choke_and_is_better_on_part_choke(
    shown: Look, running: Arrangement
) -> None:
    jet = {"main_jet_open": 0.58}
    assert shown("dies_on_choke_open", running, **jet)[0] > 0.3
    assert shown("choke_response", running, main_jet_open=0.68)[0] > 0.4
    assert shown("plug_colour", running, **jet)[0] < 0.15
    assert shown("spit_back", running, **jet)[0] > 0.2


def test_a_blocked_idle_circuit_stalls_at_idle_and_pulls_at_load(shown: Look, running: Arrangement) -> None:
    jet = {"idle_jet_open": 0.55}
    assert shown("idle_keeps", running, **jet)[0] < 0.2
    assert shown("dies_on_load", replace(running, load="full"), **jet)[0] < 0.2
    assert shown("choke_response", running, idle_jet_open=0.66)[0] > 0.4


def test_an_air_leak_leans_idle_first_and_bubbles_where_it_is(shown: Look, running: Arrangement) -> None:
    tight, leaking = shown("idle_mixture_phi", running, carburettor_joint_leak_mm2=[0.04, 5.0])
    assert leaking < 0.75 * tight
    main = shown("run_mixture_phi", running, carburettor_joint_leak_mm2=[0.04, 5.0])
    assert main[1] > 0.9 * main[0]
    assert shown("carburettor_joint_bubbles", carburettor_joint_leak_mm2=5.0)[0] > 0.9
    assert shown("manifold_bubbles", carburettor_joint_leak_mm2=5.0)[0] < 0.1


def test_a_leaking_needle_floods_smokes_and_drips(shown: Look, running: Arrangement, pulled: Arrangement) -> None:
    leak = {"needle_leak": 0.9}
    assert shown("plug_wetness", pulled, **leak)[0] > 0.9
    assert shown("black_smoke", running, **leak)[0] > 0.8
    assert shown("needle_drip_ml_min", **leak)[0] > 10.0
    assert shown("needle_hold_share", **leak)[0] < 0.01
    assert shown("fuel_smell_outside", **leak)[0] > 0.9


def test_a_blocked_filter_smokes_only_where_the_bowl_is_vented_outside(shown: Look, running: Arrangement) -> None:
    outside, clean_side = (
        shown("run_mixture_phi", running, {"bowl_vent": vent}, filter_blockage=0.85)[0]
        for vent in ("outside", "clean-side")
    )
    assert outside > clean_side + 0.4
    assert shown("better_without_filter", running, filter_blockage=0.85)[0] > 0.3
    assert shown("better_without_filter", running)[0] < 0.05
    free = replace(running, off=frozenset({"air-cleaner"}))
    assert shown("black_smoke", free, filter_blockage=0.85)[0] < 0.05


def test_dry_plug_without_fuel_and_wet_plug_with_fuel_but_no_start(shown: Look, pulled: Arrangement) -> None:
    assert shown("plug_wetness", pulled, needle_stuck_shut=1.0)[0] < 0.05
    assert shown("plug_wetness", pulled, module_alive=0.0)[0] > 0.4
    assert shown("plug_wetness", pulled, flooded_ml=8.0)[0] > 0.95


def test_altitude_enriches_and_ethanol_leans(shown: Look, running: Arrangement) -> None:
    sea, hill = (
        shown("run_mixture_phi", running, conditions=Conditions(altitude_m=height, air_c=15.0))[0]
        for height in (0.0, 2000.0)
    )
    none, ten = shown("run_mixture_phi", running, ethanol_share=[0.0, 0.1])
    assert 1.05 < hill / sea < 1.14
    assert ten / none == pytest.approx(0.96, abs=0.01)


def test_mixture_screws_move_only_carburettors_that_have_them(shown: Look, running: Arrangement) -> None:
    screw = {"main_screw_turns": [-0.8, 0.0, 0.8]}
    fixed = shown("run_mixture_phi", running, {"mixture_screws": "no"}, **screw)
    free = shown("run_mixture_phi", running, {"mixture_screws": "yes"}, **screw)
    assert np.ptp(fixed) == 0.0
    assert np.all(np.diff(free) > 0.1)


def test_the_metering_side_counts_only_with_a_diaphragm(shown: Look, running: Arrangement) -> None:
    stiff = {"metering_stiffness": [1.0, 4.0]}
    floats = shown("run_mixture_phi", running, {"carburettor": "float"}, **stiff)
    diaphragm = shown("run_mixture_phi", running, {"carburettor": "diaphragm"}, **stiff)
    assert floats[0] == floats[1]
    assert diaphragm[1] < 0.8 * diaphragm[0]


def test_a_choke_that_does_not_open_smokes_and_a_sunk_float_too(shown: Look, running: Arrangement) -> None:
    assert shown("black_smoke", running, choke_opens=0.3)[0] > 0.8
    assert shown("black_smoke", running, float_sunk=1.0)[0] > 0.8
    assert shown("bowl_fuel_ml", float_level_mm=-8.0)[0] < 0.8 * shown("bowl_fuel_ml")[0]


def test_a_user_choke_position_is_kept_when_it_is_being_run(shown: Look, running: Arrangement) -> None:
    part = shown("run_mixture_phi", replace(running, choke="part"))[0]
    opened = shown("run_mixture_phi", running)[0]
    assert 1.1 < part / opened < 1.4
