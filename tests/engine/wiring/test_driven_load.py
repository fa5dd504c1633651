"""Blade, brake, belt and clutch faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement

Look = Callable[..., NDArray[np.float64]]
BELT: dict[str, float | str] = {"belt": "yes", "driven_load": "tines", "brake": "no", "operator_presence": "no"}
CLUTCH: dict[str, float | str] = {
    "clutch": "yes", "driven_load": "cutter", "brake": "no", "operator_presence": "no", "governor_kind": "none",
    "usual_idle_rpm": 2800.0,
}  # fmt: skip


def test_a_control_that_is_not_held_brakes_the_crank(shown: Look, pulled: Arrangement) -> None:
    let_go = replace(pulled, added=frozenset())
    assert shown("drag_torque_nm", pulled)[0] < 0.5
    assert shown("drag_torque_nm", let_go)[0] > 3.5
    assert shown("drag_torque_nm", let_go, {"operator_presence": "no", "brake": "no"})[0] < 0.5


def test_a_sound_brake_stops_the_blade_in_time_and_a_worn_one_does_not(shown: Look, running: Arrangement) -> None:
    sound, worn, oily = shown("stop_time_s", running, brake_pad_wear=[0.2, 1.0, 0.2], brake_oily=[0.0, 0.0, 1.0])
    assert 1.0 < sound < 2.5
    assert worn > 3.0
    assert oily > 3.0
    assert shown("stop_time_s", running, blade_loose=0.8)[0] > 3.0


def test_a_slack_cable_drags_and_shows_at_the_brake(shown: Look, pulled: Arrangement) -> None:
    assert shown("brake_frees", brake_cable_slack_mm=15.0)[0] < 0.1
    assert shown("drag_torque_nm", pulled, brake_cable_slack_mm=15.0)[0] > 3.5


def test_uncoupling_the_load_frees_an_engine_that_the_load_locks(shown: Look, pulled: Arrangement) -> None:
    sizes: dict[str, float | str] = {"driven_load": "washer", "brake": "no", "pump_displacement_cm3": 8.0}
    for fault in ({"load_seized": 1.0}, {"trapped_pressure_kpa": 9000.0}):
        assert shown("drag_torque_nm", pulled, sizes, **fault)[0] > 8.0
        assert shown("drag_torque_nm", replace(pulled, off=frozenset({"load"})), sizes, **fault)[0] < 0.5


def test_vibration_goes_with_the_blade_unless_the_shaft_is_bent(shown: Look, running: Arrangement) -> None:
    bare = replace(running, off=frozenset({"blade"}))
    blade = {"blade_imbalance_gmm": 2500.0}
    assert shown("vibration_mm_s", running, **blade)[0] > 3.0 * shown("vibration_mm_s", bare, **blade)[0]
    bent = {"shaft_runout_mm": 4.0}
    assert shown("vibration_mm_s", bare, **bent)[0] > shown("vibration_mm_s", bare)[0]
    assert shown("shaft_wobble_mm", **bent)[0] == pytest.approx(4.0)


def test_a_loose_blade_takes_its_inertia_away(shown: Look) -> None:
    tight, loose = shown("inertia_kgm2", blade_loose=[0.0, 1.0])
    assert loose < 0.3 * tight
    assert shown("inertia_kgm2", Arrangement(off=frozenset({"blade"})))[0] == pytest.approx(loose)


def test_a_slack_belt_slips_and_a_wrong_one_does_not_let_go(shown: Look, running: Arrangement) -> None:
    assert shown("belt_grip", sizes=BELT)[0] > 0.95
    assert shown("belt_grip", sizes=BELT, belt_slack=0.9)[0] < 0.4
    assert shown("tool_works", running, BELT, belt_off=1.0)[0] == 0.0
    assert shown("tool_creep", running, BELT, belt_wrong=1.0)[0] > 0.9
    assert shown("tool_creep", running, BELT)[0] < 0.05


def test_a_weak_clutch_spring_turns_the_tool_at_idle(shown: Look, running: Arrangement) -> None:
    idle = {"idle_set_rpm": 2800.0, "top_speed_set_rpm": 9500.0}
    assert shown("tool_creep", running, CLUTCH, **idle)[0] < 0.05
    assert shown("tool_creep", running, CLUTCH, clutch_spring_weak=0.7, **idle)[0] > 0.9
    assert shown("belt_grip", sizes=CLUTCH, clutch_shoe_wear=0.9)[0] < 0.3


def test_a_jammed_blade_holds_the_rope_and_a_shear_pin_spares_it(shown: Look, pulled: Arrangement) -> None:
    assert shown("drag_torque_nm", pulled, object_jammed=1.0)[0] > 20.0
    assert shown("drag_torque_nm", pulled, object_jammed=1.0, shear_pin_gone=1.0)[0] < 1.0


def test_a_blade_upside_down_pulls_hard_and_cuts_badly(shown: Look, running: Arrangement) -> None:
    right, wrong = shown("tool_works", running, blade_upside_down=[0.0, 1.0])
    assert wrong < 0.7 * right
    assert shown("load_torque_share", blade_upside_down=1.0)[0] > shown("load_torque_share")[0]


def test_a_dragging_blade_clutch_runs_on(shown: Look, running: Arrangement) -> None:
    sizes: dict[str, float | str] = {"blade_clutch": "yes", "belt": "no"}
    sound, seized = shown("stop_time_s", running, sizes, blade_clutch_drag=[0.0, 1.0])
    assert seized > 3.0 * sound


def test_loose_mounts_shake_several_times_as_much(shown: Look, running: Arrangement) -> None:
    tight, half, loose = shown("vibration_mm_s", running, mounts_loose=[0.0, 0.5, 1.0])
    assert 3.0 < loose / tight < 8.0
    assert tight < half < loose
