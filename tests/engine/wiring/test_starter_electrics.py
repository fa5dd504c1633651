"""Battery, starter, charging and pump faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement

Look = Callable[..., NDArray[np.float64]]
KEY = Arrangement(added=frozenset({"control-held"}), drive="starter", choke="closed")
RIDER: dict[str, float | str] = {"electric_start": "yes", "charging": "regulated", "blade_clutch": "yes"}


def test_a_sound_starter_cranks_and_the_battery_holds(shown: Look) -> None:
    assert shown("battery_rest_v", KEY, RIDER)[0] > 12.4
    assert shown("battery_cranking_v", KEY, RIDER)[0] > 10.0
    assert 300.0 < shown("starter_turns_rpm", KEY, RIDER)[0] < 700.0
    assert shown("cable_drop_v", KEY, RIDER)[0] < 0.3
    assert shown("earth_drop_v", KEY, RIDER)[0] < 0.2
    assert shown("solenoid_drop_v", KEY, RIDER)[0] < 0.2


def test_each_bad_joint_shows_its_drop_where_it_is(shown: Look) -> None:
    for part, drop in (
        ("cable_ohm", "cable_drop_v"), ("earth_ohm", "earth_drop_v"), ("solenoid_contact_ohm", "solenoid_drop_v")
    ):  # fmt: skip
        fault = {part: 0.04}
        assert shown(drop, KEY, RIDER, **fault)[0] > 1.0
        others = {"cable_drop_v", "earth_drop_v", "solenoid_drop_v"} - {drop}
        assert all(shown(other, KEY, RIDER, **fault)[0] < 0.4 for other in others)
        assert shown("starter_turns_rpm", KEY, RIDER, **fault)[0] < 0.85 * shown("starter_turns_rpm", KEY, RIDER)[0]


def test_a_flat_or_sulphated_battery_falls_at_its_own_posts(shown: Look) -> None:
    assert shown("battery_cranking_v", KEY, RIDER, battery_charge=0.1)[0] < 9.6
    assert shown("battery_cranking_v", KEY, RIDER, battery_ohm=0.12)[0] < 9.6
    assert shown("battery_rest_v", KEY, RIDER, battery_ohm=0.12)[0] > 12.4


def test_silence_and_clicks_are_told_apart(shown: Look) -> None:
    for dead in ({"fuse_open": 1.0}, {"key_open": 1.0}, {"solenoid_open": 1.0}):
        assert shown("cranks_not", KEY, RIDER, **dead)[0] > 0.9
        assert shown("only_clicks", KEY, RIDER, **dead)[0] < 0.1
    assert shown("only_clicks", KEY, RIDER, starter_brush_wear=1.0)[0] > 0.8
    assert shown("starter_turns_rpm", KEY, RIDER, pinion_stuck=1.0)[0] == 0.0
    earth_off = replace(KEY, off=frozenset({"battery-earth"}))
    assert shown("starter_turns_rpm", earth_off, RIDER)[0] == 0.0


def test_a_machine_without_a_starter_makes_no_electric_complaint(shown: Look) -> None:
    for complaint in ("only_clicks", "cranks_slowly", "cranks_not", "battery_goes_flat"):
        assert shown(complaint, KEY)[0] == 0.0


def test_a_dead_charging_side_shows_at_the_posts(shown: Look, running: Arrangement) -> None:
    assert 13.5 < shown("charge_v", running, RIDER)[0] < 14.7
    for fault in ({"charge_coil_open": 1.0}, {"charge_diode_open": 1.0}, {"charge_regulator_dead": 1.0}):
        assert shown("charge_v", running, RIDER, **fault)[0] < 12.8
        assert shown("battery_goes_flat", running, RIDER, **fault)[0] > 0.9
    assert shown("charge_coil_vac", running, RIDER, charge_coil_open=1.0)[0] == 0.0
    assert shown("charge_coil_ohm", running, RIDER, charge_coil_open=1.0)[0] > 1e5
    assert shown("battery_goes_flat", running, RIDER)[0] < 0.1
    assert shown("battery_goes_flat", running, RIDER, drain_ma=400.0)[0] > 0.9


PUMP: dict[str, float | str] = {
    "driven_load": "pump", "brake": "no", "operator_presence": "no", "usual_top_rpm": 3600.0, "nominal_hz": 60.0,
}  # fmt: skip


def test_a_sound_pump_primes_within_three_minutes_and_an_air_leak_does_not(shown: Look, running: Arrangement) -> None:
    speed = {"top_speed_set_rpm": 3600.0}
    assert shown("pump_prime_s", running, PUMP, **speed)[0] < 180.0
    assert shown("pump_suction_kpa", running, PUMP, **speed)[0] > 45.0
    assert shown("no_water", running, PUMP, **speed)[0] < 0.1
    for fault in ({"pump_air_leak_mm2": 15.0}, {"pump_dry": 1.0}, {"impeller_wear": 1.0}):
        assert shown("no_water", running, PUMP, **speed, **fault)[0] > 0.8


def test_a_stuck_unloader_gives_no_pressure(shown: Look, running: Arrangement) -> None:
    washer = PUMP | {"driven_load": "washer", "pump_working_kpa": 15000.0, "pump_displacement_cm3": 8.0}
    sound, stuck = shown("pump_pressure_kpa", running, washer, unloader_stuck=[0.0, 1.0], top_speed_set_rpm=3600.0)
    assert stuck < 0.3 * sound


def test_an_engine_that_does_not_run_is_not_taken_for_a_flat_battery(shown: Look) -> None:
    whole, dead, coil, drain = (
        shown("battery_goes_flat", KEY, RIDER, **fault)[0]
        for fault in ({}, {"module_alive": 0.0}, {"charge_coil_open": 1.0}, {"drain_ma": 300.0})
    )
    assert whole == dead < 0.1
    assert min(coil, drain) > 0.9
