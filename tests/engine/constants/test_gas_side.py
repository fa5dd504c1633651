"""No constant of the gas side is there for show: moving any of them moves something that can be seen."""

from __future__ import annotations

import importlib
from collections.abc import Iterator

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine import combustion, constants
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, GAUGE, MOWER, PULLED, TESTER, TWO_STROKE, population

FloatArray = NDArray[np.float64]
SYSTEMS = ("compression", "valves", "crankcase", "combustion", "kickback", "cooling", "lubrication", "exhaust")
NAMES = sorted(
    name for system in SYSTEMS for name in importlib.import_module(f"firstpull.engine.constants.{system}").CONSTANTS
)
FAST: dict[str, float | str] = {"rated_speed_rpm": 7000.0, "usual_rope_rpm": 1900.0}


def _machines() -> dict[str, FloatArray]:
    """Machines with a little of everything wrong."""
    params = population(60, seed=7)
    rng = np.random.default_rng(11)
    wrong = {
        "bore_wear_mm": (0.0, 0.3),
        "piston_score": (0.0, 0.6),
        "head_bolts_loose": (0.0, 0.8),
        "head_warp_mm": (0.0, 0.3),
        "foreign_object_damage": (0.0, 0.5),
        "rod_broken": (0.0, 0.02),
        "cylinder_oil_cm3": (0.0, 30.0),
        "combustion_carbon": (0.0, 1.0),
        "exhaust_lash_mm": (-0.01, 0.6),
        "intake_lash_mm": (0.0, 0.6),
        "release_stuck_on": (0.0, 1.0),
        "valve_seat_loose": (0.0, 0.3),
        "cam_timing_error_deg": (-10.0, 10.0),
        "intake_lift_share": (0.05, 1.0),
        "intake_hang_mm": (0.0, 0.15),
        "fin_blockage": (0.0, 0.95),
        "muffler_blockage": (0.0, 0.9),
        "screen_blockage": (0.0, 0.9),
        "muffler_leak": (0.0, 1.0),
        "key_offset_deg": (-12.0, 25.0),
        "blade_loose": (0.0, 1.0),
        "reed_leak_mm2": (0.4, 20.0),
        "carburettor_joint_leak_mm2": (0.0, 3.0),
        "breather_blocked": (0.0, 0.8),
        "muffler_oil_cm3": (0.0, 5.0),
        "guide_wear_mm": (0.02, 0.3),
        "rod_play_mm": (0.02, 0.5),
        "oil_level_mm": (-30.0, 15.0),
        "oil_fuel_share": (0.0, 0.4),
    }
    return params | {name: rng.uniform(low, high, 60) for name, (low, high) in wrong.items()}


MACHINES = _machines()
RUNS = (
    ("compression_kpa", "compression_gain_kpa", "pull_effort_n", "compression_firmness", "crank_locked"),
    ("leakdown_flow",),
    (
        "kick",
        "bounce",
        "hard_pull",
        "valve_spit_back",
        "reed_spit_back",
        "crankcase_pressure_hold_kpa",
        "breathing",
        "oil_on_plug",
        "scavenge_share",
    ),
)
_WORK = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot", load="full")
_FIRST_MINUTE = Arrangement(added=frozenset({"control-held"}), drive="running")
AT_WORK = (
    "engine_power_share",
    "no_power",
    "head_c",
    "hot_smell",
    "heat_fade",
    "blue_smoke",
    "white_smoke",
    "squeal",
    "rod_knock",
    "smoke_puff_at_start",
    "smoke_clears_min",
    "valve_tick",
    "exhaust_bark",
    "pinging",
    "runs_on",
    "after_fire",
    "blow_by_l_min",
    "crankcase_vacuum_kpa",
    "exhaust_backpressure_kpa",
    "indicated_kpa",
    "compression_torque_share",
)


def _seen() -> Iterator[FloatArray]:
    """All of it, one array after another; a run that is not there counts as -1."""
    choked = Arrangement(off=PULLED.off, added=PULLED.added, drive="rope", choke="part")
    shut = Arrangement(off=PULLED.off, added=PULLED.added, drive="rope", choke="closed")
    hot = Arrangement(off=GAUGE.off, added=GAUGE.added, drive="rope", thermal="hot")
    for sizes in ({}, TWO_STROKE, FAST):
        for arrangement, names in (
            (GAUGE, RUNS[0]),
            (_WORK, AT_WORK),
            (AS_BROUGHT, RUNS[2]),
            (TESTER, RUNS[1]),
            (PULLED, RUNS[0]),
            (choked, RUNS[0]),
            (shut, RUNS[0]),
            (hot, RUNS[0]),
            (Arrangement(drive="rope"), RUNS[2]),
            (_FIRST_MINUTE, AT_WORK),
        ):
            found = predict(MACHINES, sizes, Conditions(), arrangement, Setup(), names)
            yield np.nan_to_num(np.stack(list(found.values())), nan=-1.0)


@pytest.fixture(scope="module")
def plain() -> list[FloatArray]:
    """What is seen with all constants where they stand."""
    return list(_seen())


@pytest.mark.parametrize("name", [name for name in NAMES if name != "combustion_wall_w_m2k"])
def test_moving_a_constant_moves_something(name: str, plain: list[FloatArray]) -> None:
    with constants.shifted({name: 1.15}):
        assert any(not np.array_equal(moved, was) for moved, was in zip(_seen(), plain, strict=False))


def test_the_wall_heat_of_the_fine_cycle_moves_its_work() -> None:
    one = np.ones(1)
    cylinder = (MOWER, one * 2.13e-5, one * 130.0, one * 23.0, one * 55.0, one * 2.4e6, one * 3000.0, one * 0.1)
    air = (one * 91e3, one * 340.0, one * 101325.0)
    usual = combustion.fired_cycle(*cylinder, *air).work_j[0]
    with constants.shifted({"combustion_wall_w_m2k": 1.15}):
        assert combustion.fired_cycle(*cylinder, *air).work_j[0] < usual
