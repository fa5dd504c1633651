"""Kick-back through the rope."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, HELD, population, shown

FIRST_START = Arrangement(added=HELD, drive="rope", choke="closed")


def test_healthy_machines_hardly_ever_kick() -> None:
    kicks = predict(population(800), {}, Conditions(), AS_BROUGHT, Setup(), ["kick"])["kick"]
    assert np.percentile(kicks, 95) < 0.05


@pytest.mark.parametrize(
    ("parameter", "value"), [("key_offset_deg", 28.0), ("blade_loose", 1.0), ("blade_missing", 1.0)]
)
def test_a_stepped_key_and_a_lost_blade_kick(parameter: str, value: float) -> None:
    usual, faulty = shown("kick_ratio", FIRST_START)[0], shown("kick_ratio", FIRST_START, {parameter: value})[0]
    assert faulty > 3.0 * usual
    assert shown("kick", FIRST_START, {parameter: value})[0] > 0.3


def test_losing_the_release_as_well_makes_it_worse() -> None:
    loose = {"blade_loose": 1.0}
    both = loose | {"release_lift_share": 0.0}
    assert shown("kick_ratio", FIRST_START, both)[0] > 1.5 * shown("kick_ratio", FIRST_START, loose)[0]


def test_a_late_spark_does_not_kick() -> None:
    assert shown("kick_ratio", FIRST_START, {"key_offset_deg": -30.0})[0] == 0.0


@pytest.mark.parametrize("token", ["plug", "plug-lead"])
def test_what_cannot_fire_cannot_kick(token: str) -> None:
    stepped = {"key_offset_deg": 35.0}
    assert shown("kick", FIRST_START, stepped)[0] > 0.3
    assert shown("kick", replace(FIRST_START, off=frozenset({token})), stepped)[0] < 1e-6


def test_an_earthed_tester_on_the_lead_prevents_it() -> None:
    testing = replace(FIRST_START, added=HELD | {"tester-on-lead"})
    assert shown("kick", testing, {"key_offset_deg": 35.0})[0] == 0.0


def test_with_the_control_let_go_it_cannot_fire() -> None:
    assert shown("kick", replace(FIRST_START, added=frozenset()), {"key_offset_deg": 35.0})[0] < 0.01


def test_a_loose_blade_bounces_off_full_compression() -> None:
    bounce = shown("bounce", AS_BROUGHT, {"blade_loose": [0.0, 1.0], "release_lift_share": [1.0, 0.0]})
    assert bounce[0] < 0.05
    assert bounce[1] > 0.5
