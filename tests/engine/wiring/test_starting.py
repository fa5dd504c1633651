"""Would it start, and keep running?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Arrangement, Conditions
from tests.engine.healthy_mowers import HEALTHY, HELD, PULLED, RUNNING, shown, with_fault


def test_a_healthy_mower_starts_within_a_few_pulls_and_runs() -> None:
    assert float((shown("start_chance") > 0.9).mean()) > 0.99
    assert float((shown("start_chance_hot") > 0.9).mean()) > 0.99
    assert float((shown("would_run", arrangement=RUNNING) > 0.5).mean()) > 0.99
    assert float(np.median(shown("pulls_to_start"))) < 2.0


@pytest.mark.parametrize(
    "draws",
    [
        {"module_alive": 0.0},
        {"stop_lead_ohm": 0.5},
        {"plug_fouling_ohm": 2e4},
        {"key_offset_deg": -60.0},
        {"ring_leak_mm2": 15.0},
        {"exhaust_valve_leak_mm2": 15.0},
        {"main_jet_open": 0.0, "idle_jet_open": 0.0},
        {"muffler_blockage": 1.0},
        {"seizure": 1.0},
    ],
    ids=["coil", "stop lead", "plug", "key", "rings", "valve", "jets", "muffler", "seized"],
)
def test_every_thing_a_start_needs_can_prevent_it(draws: dict[str, float]) -> None:
    assert float(np.median(shown("start_chance", with_fault(**draws)))) < 0.2


def test_people_hold_the_control_and_choke_it_whatever_was_arranged_for_the_check() -> None:
    np.testing.assert_array_equal(shown("start_chance", arrangement=Arrangement()), shown("start_chance"))


@pytest.mark.parametrize(
    "draws",
    [{"rope_broken": 1.0}, {"pawl_slip": 1.0}, {"rope_off_reel": 1.0}, {"reel_drag_nm": 15.0}, {"seizure": 1.0},
     {"cylinder_oil_cm3": 40.0}],
    ids=["rope", "pawls", "reel", "drag", "seized", "oil above the piston"],
)  # fmt: skip
def test_what_keeps_it_from_turning_is_no_trouble_of_the_start(draws: dict[str, float]) -> None:
    fault = with_fault(**draws)
    assert float(np.median(shown("start_chance", fault))) < 0.2
    if "cylinder_oil_cm3" not in draws:  # oil that is let out leaves a wet plug behind: that is another matter
        assert float(np.median(shown("start_chance_turned", fault))) > 0.9
        assert float(np.median(shown("pulls_turned", fault))) < 2.0
    assert float(np.max(shown("fails_hot_only", fault))) < 0.5
    assert float(np.max(shown("fails_cold_only", fault))) < 0.5


def test_what_keeps_it_from_firing_does_so_however_it_is_turned() -> None:
    for draws in ({"module_alive": 0.0}, {"ring_leak_mm2": 15.0}, {"main_jet_open": 0.0, "idle_jet_open": 0.0}):
        fault = with_fault(**draws)
        assert float(np.median(shown("start_chance_turned", fault))) < 0.05
        assert float(np.median(shown("pulls_turned", fault))) > 15.0
        assert float(np.max(shown("fails_hot_only", fault))) < 0.3


def test_a_sound_machine_taken_to_turn_starts_as_it_does_by_rope() -> None:
    assert float(np.median(np.abs(shown("start_chance_turned") - shown("start_chance")))) < 0.02


def test_a_coil_that_gives_out_hot_starts_cold_and_not_hot() -> None:
    fault = with_fault(module_opens_c=60.0)
    assert float(np.median(shown("fails_hot_only", fault))) > 0.8
    assert float(np.max(shown("fails_cold_only", fault))) < 0.1
    assert float(np.mean(shown("fails_hot_only") > 0.3)) < 0.005


def test_a_choke_that_does_not_close_and_stale_fuel_start_warm_and_not_cold() -> None:
    day = Conditions(air_c=8.0)
    for draws in ({"choke_closes": 0.0}, {"fuel_lost_share": 0.65}):
        sizes: dict[str, float | str] = {"primer": "no"}
        failing = shown("fails_cold_only", with_fault(**draws), sizes=sizes, conditions=day)
        assert float(np.mean(failing > 0.5)) > 0.5, draws
        assert float(np.max(shown("fails_hot_only", with_fault(**draws), sizes=sizes, conditions=day))) < 0.5
    assert float(np.max(shown("fails_cold_only"))) < 0.1


def test_nothing_starts_with_the_plug_out_or_its_lead_on_a_tester() -> None:
    for arrangement in (
        replace(PULLED, off=frozenset({"plug"})),
        replace(PULLED, added=HELD | {"tester-on-lead"}),
        replace(PULLED, off=frozenset({"plug-lead"})),
    ):
        assert float(shown("start_chance", arrangement=arrangement).max()) == 0.0


def test_nothing_runs_without_cover_oil_or_fuel() -> None:
    for token in ("shroud", "oil", "fuel", "carburettor"):
        running = replace(RUNNING, off=frozenset({token}))
        assert float(shown("would_run", arrangement=running).max()) == 0.0


def test_running_readings_are_empty_on_machines_that_would_not_run() -> None:
    assert np.isnan(shown("stops_on_release", with_fault(module_alive=0.0), RUNNING)).all()


def test_fuel_starvation_fires_on_a_prime_and_then_dies() -> None:
    fault = with_fault(main_jet_open=0.02, idle_jet_open=0.02)
    assert float(np.median(shown("fires_on_prime", fault))) > 0.8
    assert float(np.median(shown("start_chance", fault))) < 0.2
    assert float(np.max(shown("fires_on_prime", with_fault(module_alive=0.0)))) < 1e-3


def test_a_harder_pull_helps_weak_magnets_and_not_an_empty_bowl() -> None:
    magnets = with_fault(magnet_strength=Spread("uniform", 0.5, 0.6))
    jets = with_fault(main_jet_open=0.0, idle_jet_open=0.0)
    assert float(np.mean(shown("hard_pull_gain", magnets))) > 0.2
    assert float(np.mean(shown("hard_pull_gain", jets))) < 0.01


def test_chances_stay_between_none_and_certain() -> None:
    for name in ("start_chance", "start_chance_hot", "pull_start_chance", "fires_on_prime", "coughs", "would_run"):
        for params in (HEALTHY, with_fault(fuel_age_d=400.0), with_fault(ring_leak_mm2=2.0)):
            chance = shown(name, params)
            assert (chance >= 0.0).all(), name
            assert (chance <= 1.0).all(), name


def test_starting_and_only_coughing_add_up_to_firing() -> None:
    fault = with_fault(main_jet_open=Spread("uniform", 0.2, 0.6))
    together = shown("start_chance", fault) + shown("coughs", fault)
    assert (together <= 1.0 + 1e-12).all()


def test_thick_cold_makes_starting_no_easier() -> None:
    frost = shown("pull_start_chance", conditions=Conditions(air_c=-20.0))
    assert float(np.mean(frost)) <= float(np.mean(shown("pull_start_chance"))) + 1e-9
