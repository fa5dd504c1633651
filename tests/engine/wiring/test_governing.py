"""Speed, hunting and control faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement

Look = Callable[..., NDArray[np.float64]]


def test_a_sound_mower_holds_its_speed(shown: Look, running: Arrangement) -> None:
    assert 2900.0 < shown("top_rpm", running)[0] < 3150.0
    assert 1600.0 < shown("idle_rpm", running)[0] < 2000.0
    assert 1.0 < shown("droop_percent", running)[0] < 6.5
    assert shown("hunting_swing_rpm", running)[0] < 15.0
    assert np.isnan(shown("hunting_hz", running)[0])
    assert shown("overspeed", running)[0] < 0.1


def test_a_lean_idle_circuit_hunts_and_part_choke_smooths_it(shown: Look, running: Arrangement) -> None:
    lean = {"idle_jet_open": 0.58}
    assert shown("hunting_swing_rpm", running, **lean)[0] > 40.0
    assert 0.4 < shown("hunting_hz", running, **lean)[0] < 2.5
    assert shown("hunting_swing_rpm", replace(running, choke="part"), **lean)[0] < 15.0


def test_lost_motion_wanders_slowly_and_choke_does_not_help(shown: Look, running: Arrangement) -> None:
    play = {"governor_link_play": 0.4}
    assert shown("hunting_swing_rpm", running, **play)[0] > 40.0
    assert shown("hunting_hz", running, **play)[0] < 0.6
    assert shown("hunting_swing_rpm", replace(running, choke="part"), **play)[0] > 40.0


def test_a_link_that_is_off_overspeeds_and_a_missing_spring_does_not(shown: Look, running: Arrangement) -> None:
    assert shown("overspeed", running, governor_link_off=1.0)[0] > 0.95
    assert shown("overspeed", running, governor_static_error=0.7)[0] > 0.95
    assert shown("overspeed", running, governor_internal_wear=1.0)[0] > 0.95
    assert shown("top_rpm", running, governor_spring_off=1.0)[0] < 2300.0
    assert shown("spring_opens_throttle", governor_spring_off=1.0)[0] < 0.05


def test_vane_damage_counts_only_with_a_vane(shown: Look, running: Arrangement) -> None:
    gone = {"vane_damage": 1.0}
    assert shown("overspeed", running, {"governor_kind": "vane"}, **gone)[0] > 0.95
    assert shown("overspeed", running, {"governor_kind": "mechanical"}, **gone)[0] < 0.1


def test_a_weak_engine_sags_under_load(shown: Look, running: Arrangement) -> None:
    full = replace(running, load="full")
    sound, leaking = shown("loaded_rpm", full, ring_leak_mm2=[0.12, 12.0])
    assert leaking < sound
    assert shown("loaded_rpm", full, deck_packed=1.0)[0] < sound


def test_a_cable_out_of_adjustment_lowers_top_and_a_seized_one_keeps_it_fast(shown: Look, running: Arrangement) -> None:
    assert shown("top_rpm", running, throttle_cable_share=0.5)[0] < 2600.0
    assert shown("races_at_idle", running, throttle_cable_stiff=1.0)[0] > 0.9
    assert shown("speed_follows_control", running, throttle_cable_stiff=1.0)[0] < 0.1


def test_an_ungoverned_engine_speeds_up_lean_and_slows_rich(shown: Look, running: Arrangement) -> None:
    sizes: dict[str, float | str] = {"governor_kind": "none", "mixture_screws": "yes"}
    lean, right, rich = shown("top_rpm", running, sizes, main_screw_turns=[-0.35, 0.0, 1.2])
    assert lean > right > rich


def test_a_two_stroke_with_a_split_boot_idles_wrong(shown: Look, running: Arrangement) -> None:
    sizes: dict[str, float | str] = {"governor_kind": "none", "intake_boot": "yes", "throat_mm": 12.0}
    small, big = shown("idle_rpm", running, sizes, boot_leak_mm2=[0.5, 8.0])
    assert small > shown("idle_rpm", running, sizes, boot_leak_mm2=0.0)[0]
    assert big < 1000.0
