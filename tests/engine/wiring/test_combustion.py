"""Torque, knock and bangs of a running machine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, TWO_STROKE, population, shown

FULL = replace(AT_WORK, load="full")


def test_most_healthy_machines_have_their_power() -> None:
    found = predict(population(800), {}, Conditions(), FULL, Setup(), ["engine_power_share", "no_power"])
    assert np.nanpercentile(found["engine_power_share"], 5) > 0.85
    assert np.nanpercentile(found["no_power"], 95) < 0.1


@pytest.mark.parametrize(("parameter", "value"), [
    ("ring_leak_mm2", 2.0), ("exhaust_valve_leak_mm2", 2.0), ("head_gasket_edge_leak_mm2", 2.5),
    ("muffler_blockage", 0.75),
    ("screen_blockage", 0.88), ("key_offset_deg", -25.0), ("cam_timing_error_deg", 20.0), ("intake_lift_share", 0.1),
])  # fmt: skip
def test_each_of_these_costs_power(parameter: str, value: float) -> None:
    usual = shown("engine_power_share", FULL)[0]
    assert shown("engine_power_share", FULL, {parameter: value})[0] < 0.93 * usual


def test_taking_the_blocked_screen_out_brings_the_power_back() -> None:
    blocked = {"screen_blockage": 0.9}
    there = shown("engine_power_share", FULL, blocked)[0]
    without = shown("engine_power_share", replace(FULL, off=frozenset({"screen"})), blocked)[0]
    assert without > 1.2 * there


def test_altitude_costs_power() -> None:
    high = shown("engine_power_share", FULL, conditions=Conditions(altitude_m=2000.0))[0]
    assert high < 0.85 * shown("engine_power_share", FULL)[0]


def test_a_part_sheared_key_costs_little_power_and_shows_elsewhere() -> None:
    assert shown("timing_torque_share", FULL, {"key_offset_deg": -10.0})[0] > 0.9
    bang = shown("after_fire", AT_WORK, {"key_offset_deg": [0.0, -13.0]})
    assert bang[1] > 4.0 * bang[0]


def test_a_sheared_key_backfires_at_starting() -> None:
    right, late = shown("backfire_chance", AS_BROUGHT, {"key_offset_deg": [0.0, -40.0]})
    assert right < 0.05 < 0.9 < late


def test_a_fuel_solenoid_keeps_the_muffler_quiet() -> None:
    late = {"key_offset_deg": -13.0}
    without = shown("after_fire", AT_WORK, late)[0]
    with_one = shown("after_fire", AT_WORK, late, {"bowl_solenoid": "yes"})[0]
    assert with_one < 0.3 * without


def test_early_spark_and_carbon_ping() -> None:
    usual, early = shown("pinging", AT_WORK, {"key_offset_deg": [0.0, 18.0]})
    crusted = shown("pinging", FULL, {"combustion_carbon": 1.0, "key_offset_deg": 6.0})[0]
    assert usual < 0.1
    assert early > 0.8
    assert crusted > shown("pinging", FULL, {"combustion_carbon": 0.1, "key_offset_deg": 6.0})[0]


def test_a_hot_crusted_head_runs_on() -> None:
    cool = shown("runs_on", AT_WORK)[0]
    assert cool < 0.05
    assert shown("runs_on", AT_WORK, {"combustion_carbon": 1.0, "fin_blockage": 0.7})[0] > 0.7


def test_a_two_stroke_has_power_and_loses_it_by_its_port() -> None:
    assert shown("engine_power_share", FULL, None, TWO_STROKE)[0] > 0.7
    choked = shown("engine_power_share", FULL, {"port_carbon": [0.1, 0.8]}, TWO_STROKE)
    assert choked[1] < 0.85 * choked[0]
