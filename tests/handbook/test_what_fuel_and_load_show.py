"""What the virtual engine shows of the fuel, air, compression, speed, load and electrical faults, as the trade sees it.

Shares are common practice, no source, with wide margins; each is the share of virtual machines that show it.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from firstpull.engine.vocabulary.types import Arrangement, Conditions, Drive, Load, Thermal
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Row, Worlds

HELD = frozenset({"control-held", "outdoors"})
NONE: frozenset[str] = frozenset()
PLUG_OUT = frozenset({"plug", "plug-lead"})


@cache
def machines(kind: str) -> Scales:
    return Scales(Worlds(for_class(load(), kind), Conditions(), count=96))


def share(
    kind: str, check: str, words: str | tuple[str, ...], fault: str | None, drive: Drive = "none",
    off: frozenset[str] = NONE, added: frozenset[str] = HELD, key: str | None = None,
) -> float:
    """Mean chance of a word (or of any of several) over the virtual machines that have this fault."""
    scales = machines(kind)
    entry = scales.worlds.book.checks[check]
    thermal: Thermal = "hot" if entry.thermal == "hot" else "cold"
    load_now: Load = entry.load
    place = Arrangement(off, added, drive, thermal, entry.choke, load_now)
    column = next(c for c in scales.columns(check, place) if c.key == key and (c.edge is None or c.word in words))
    chances = scales.chances(column, [Row(frozenset({fault} if fault else ()))])[0]
    if column.edge is not None:
        return float(np.mean(chances[:, 0]))
    asked = (words,) if isinstance(words, str) else words
    return float(np.mean(sum(chances[:, column.ear.words.index(word)] for word in asked)))


MOWER = "walk-mower-ohv"


@pytest.mark.parametrize("fault", ["main-jet-gummed", "needle-stuck-shut", "exhaust-valve-stuck", "pushrod-off-intake",
                                   "seized", "locked-by-fuel", "locked-by-oil"])
def test_what_keeps_a_mower_from_starting_keeps_it_from_starting(fault: str) -> None:
    assert share(MOWER, "start-cold", "does-not-start", fault, "rope") > 0.85


def test_a_healthy_mower_starts() -> None:
    assert share(MOWER, "start-cold", "starts", None, "rope") > 0.97


@pytest.mark.parametrize("fault", ["main-jet-gummed", "needle-stuck-shut", "stale-fuel"])
def test_drops_in_the_intake_fire_what_gets_no_fuel(fault: str) -> None:
    assert share(MOWER, "prime-squirt", "fires", fault, "rope", added=HELD | {"primed"}) > 0.9


@pytest.mark.parametrize("fault", ["coil-dead", "exhaust-valve-stuck", "pushrod-off-intake"])
def test_drops_in_the_intake_do_nothing_without_spark_or_compression(fault: str) -> None:
    assert share(MOWER, "prime-squirt", "nothing", fault, "rope", added=HELD | {"primed"}) > 0.9


def test_a_stuck_needle_leaves_the_bowl_empty_and_a_gummed_jet_does_not() -> None:
    assert share(MOWER, "bowl-drain", "empty", "needle-stuck-shut") > 0.9
    assert share(MOWER, "bowl-drain", "fuel-there", "main-jet-gummed") > 0.95


def test_varnish_in_the_bowl_tells_old_fuel_from_clean() -> None:
    assert share(MOWER, "bowl-look", "bright", None) > 0.9
    assert share(MOWER, "bowl-look", ("film", "varnish"), "main-jet-gummed") > 0.95


@pytest.mark.parametrize("fault", ["carburettor-joint-leaks", "manifold-leaks", "idle-jet-gummed",
                                   "main-jet-partly-gummed"])
def test_lean_faults_hunt(fault: str) -> None:
    assert share(MOWER, "hunting-swing", "hunts", fault, "running") > 0.3
    assert share(MOWER, "hunting-swing", "steady", None, "running") > 0.85


def test_half_choke_does_not_cure_a_governor() -> None:
    assert share(MOWER, "part-choke-response", "smooths", "governor-linkage-sticks", "running") < 0.05


def test_a_blocked_vent_stops_it_in_minutes_and_the_loose_cap_brings_it_back() -> None:
    assert share(MOWER, "cap-loosened", "recovers", "cap-vent-blocked") > 0.7
    assert share(MOWER, "cap-loosened", "no-change", "fuel-filter-blocked") > 0.95


def test_oil_on_top_tells_rings_from_valves() -> None:
    wet = HELD | {"oil-in-cylinder"}
    assert share(MOWER, "compression-wet", "rises", "rings-worn", "rope", PLUG_OUT, wet) > 0.85
    assert share(MOWER, "compression-wet", "rises", "exhaust-valve-burnt", "rope", PLUG_OUT, wet) < 0.05


@pytest.mark.parametrize(("fault", "place"), [("exhaust-valve-burnt", "muffler"), ("intake-valve-leaks", "carburettor"),
                                              ("rings-worn", "filler"), ("head-gasket-out", "head-edge"),
                                              ("head-gasket-gallery", "pushrod-side")])
def test_leak_down_hisses_where_it_leaks_and_a_healthy_one_is_tight(fault: str, place: str) -> None:
    off, held = PLUG_OUT | {"air-cleaner"}, frozenset({"crank-held"})
    assert share(MOWER, "leak-down", place, fault, off=off, added=held, key="hiss") > 0.85
    assert share(MOWER, "leak-down", place, None, off=off, added=held, key="hiss") < 0.1
    assert share(MOWER, "leak-down", "tight", None, off=off, added=held, key="loss") > 0.9
    assert share(MOWER, "leak-down", "tight", fault, off=off, added=held, key="loss") < 0.05


def test_a_release_that_stays_on_reads_low_and_leaks_down_tight() -> None:
    held = frozenset({"crank-held"})
    assert share(MOWER, "compression-dry", ("none", "low"), "release-stuck-on", "rope", PLUG_OUT) > 0.8
    assert share(MOWER, "leak-down", "tight", "release-stuck-on", off=PLUG_OUT, added=held, key="loss") > 0.9


def test_a_valve_that_sticks_hot_has_its_bump_cold() -> None:
    assert share(MOWER, "slow-pull-bump", "good-bump", "valve-sticks-hot", "lazy-rope") > 0.9
    assert share(MOWER, "slow-pull-hot", "no-bump", "valve-sticks-hot", "lazy-rope") > 0.9


@pytest.mark.parametrize("fault", ["brake-worn", "brake-spring-weak", "brake-oily"])
def test_a_bad_brake_stops_late_more_often_than_a_sound_one(fault: str) -> None:
    assert share(MOWER, "blade-stop-time", "in-time", None, "running") > 0.97
    assert share(MOWER, "blade-stop-time", "too-late", fault, "running") > 0.5


def test_a_load_that_is_let_go_frees_the_crank() -> None:
    washer = "pressure-washer"
    assert share(washer, "pull-drag", "held-fast", "load-seized", off=PLUG_OUT) > 0.9
    assert share(washer, "pull-drag", "light", "load-seized", off=PLUG_OUT | {"load"}) > 0.95


@pytest.mark.parametrize(("kind", "right"), [("generator-brush-60", "about-120"), ("generator-brush-50", "about-230"),
                                             ("generator-capacitor-60", "about-120"),
                                             ("generator-inverter-50", "about-230")])
def test_a_sound_set_gives_the_volts_of_its_plate(kind: str, right: str) -> None:
    assert share(kind, "outlet-volts", right, None, "running") > 0.9


def test_residual_volts_tell_a_dead_regulator_from_lost_magnetism() -> None:
    set60 = "generator-brush-60"
    assert share(set60, "outlet-volts", "few-volts", "regulator-failed", "running") > 0.8
    assert share(set60, "outlet-volts", "nothing", "residual-lost", "running") > 0.8
    assert share(set60, "outlet-volts", "nothing", "breaker-worn", "running") > 0.8


def test_a_flat_battery_a_bad_cable_and_a_burnt_solenoid_read_apart() -> None:
    rider, off = "ride-on-single", frozenset({"plug-lead"})
    assert share(rider, "battery-rest-volts", "flat", "battery-flat") > 0.6
    assert share(rider, "battery-rest-volts", "full", "battery-cable-bad") > 0.9
    assert share(rider, "cable-drop", "too-much", "battery-cable-bad", off=off) > 0.9
    assert share(rider, "solenoid-drop", ("some", "all"), "solenoid-burnt", off=off) > 0.9
    assert share(rider, "solenoid-drop", "little", "battery-cable-bad", off=off) > 0.9


@pytest.mark.parametrize("fault", ["crank-seal-flywheel-leaks", "crank-seal-drive-leaks", "case-gasket-leaks"])
def test_a_leaking_crankcase_does_not_hold_and_a_lifting_lip_holds_pressure_only(fault: str) -> None:
    saw, off = "chain-saw", PLUG_OUT | {"carburettor", "muffler"}
    blocked = frozenset({"ports-blocked"})
    assert share(saw, "crankcase-pressure-hold", "holds", None, off=off, added=blocked) > 0.95
    assert share(saw, "crankcase-pressure-hold", "falls", fault, off=off, added=blocked) > 0.9
    assert share(saw, "crankcase-pressure-hold", "holds", "crank-seal-lip-lifts", off=off, added=blocked) > 0.9
    assert share(saw, "crankcase-vacuum-hold", "falls", "crank-seal-lip-lifts", off=off, added=blocked) > 0.9
