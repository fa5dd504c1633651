"""The way out of a machine."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstpull.engine.vocabulary.types import Arrangement
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, PULLED, TWO_STROKE, shown


@pytest.mark.parametrize("parameter", ["muffler_blockage", "screen_blockage"])
def test_what_blocks_the_muffler_takes_the_breath(parameter: str) -> None:
    breath = shown("breathing", AS_BROUGHT, {parameter: [0.0, 0.5, 0.8, 0.98]})
    assert breath.tolist() == sorted(breath, reverse=True)
    assert breath[0] > 0.9
    assert breath[-1] < 0.15


def test_screen_or_muffler_off_cures_what_they_blocked() -> None:
    without_screen = Arrangement(off=frozenset({"screen"}))
    without_muffler = Arrangement(off=frozenset({"muffler"}))
    assert shown("breathing", without_screen, {"screen_blockage": 0.97})[0] > 0.9
    assert shown("breathing", without_muffler, {"muffler_blockage": 0.97})[0] > 0.9
    assert shown("breathing", without_screen, {"muffler_blockage": 0.97})[0] < 0.15


def test_carbon_in_the_port_matters_to_two_strokes_only() -> None:
    carbon = {"port_carbon": [0.0, 0.9]}
    two, four = shown("breathing", AS_BROUGHT, carbon, TWO_STROKE), shown("breathing", AS_BROUGHT, carbon)
    assert two[1] < 0.3 * two[0]
    assert four[0] == four[1]


def test_a_valve_that_does_not_lift_lets_nothing_out() -> None:
    assert shown("breathing", AS_BROUGHT, {"exhaust_lift_share": 0.0})[0] == 0.0
    assert shown("exhaust_puff", PULLED, {"exhaust_lift_share": 0.0})[0] < 0.05


def test_a_leaking_reed_takes_the_breath_of_a_pull() -> None:
    pulled = replace(PULLED, added=frozenset())
    breath = shown("breathing", pulled, {"reed_leak_mm2": [0.4, 60.0]}, TWO_STROKE)
    assert breath[1] < 0.6 * breath[0]


def test_back_pressure_of_a_blocked_muffler_is_many_times_the_clean_one() -> None:
    clean, blocked = shown("exhaust_backpressure_kpa", AT_WORK, {"muffler_blockage": [0.0, 0.7]})
    assert 1.0 < clean < 6.0
    assert blocked > 3.0 * clean


def test_a_cracked_muffler_is_loud() -> None:
    sound, cracked = shown("exhaust_bark", AT_WORK, {"muffler_leak": [0.0, 0.8]})
    assert sound < 0.05 < 0.9 < cracked
