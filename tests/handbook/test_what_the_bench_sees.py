"""What the virtual engine shows of the ignition, recoil and operator faults, as the trade says it is seen.

Shares are common practice, no source, with wide margins; each is the share of virtual mowers that show it.
"""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine.vocabulary.types import Arrangement, Conditions, Drive
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Row, Worlds

HELD = frozenset({"control-held"})
UNPLUGGED = frozenset({"stop-lead"})
AT_TESTER = frozenset({"tester-on-lead", "control-held"})
STOP_CIRCUIT = ("stop-lead-chafed", "stop-lead-trapped-by-repair", "stop-switch-stuck-closed", "control-cable-short")
DEAD_COILS = ("coil-dead", "coil-winding-open", "coil-secondary-open", "new-coil-dead")
SPARKS = ("plug-fouled", "plug-fails-under-pressure", "plug-gap-wide", "key-stepped", "key-sheared", "wrong-coil")


@pytest.fixture(scope="module")
def mowers() -> Worlds:
    return Worlds(for_class(load(), "walk-mower-ohv"), Conditions(), count=128)


def share(
    mowers: Worlds,
    check: str,
    word: str,
    fault: str | None,
    drive: Drive = "none",
    off: frozenset[str] = frozenset(),
    added: frozenset[str] = frozenset(),
) -> float:
    """Mean chance of a word over the virtual mowers that have this fault."""
    entry = mowers.book.checks[check]
    place = Arrangement(off, added, drive, "cold", entry.choke, entry.load)
    scales = Scales(mowers)
    column = scales.columns(check, place)[0]
    chances = scales.chances(column, [Row(frozenset({fault} if fault else ()))])[0]
    return float(np.mean(chances[:, column.ear.words.index(word)]))


def at_tester(mowers: Worlds, word: str, fault: str | None, off: frozenset[str] = frozenset()) -> float:
    return share(mowers, "spark-at-tester", word, fault, "rope", off | {"plug-lead"}, AT_TESTER)


def test_a_healthy_mower_lights_the_tester_at_a_usual_pull(mowers: Worlds) -> None:
    assert at_tester(mowers, "lights", None) > 0.98


@pytest.mark.parametrize("fault", STOP_CIRCUIT)
def test_a_grounded_coil_lights_again_with_the_stop_lead_unplugged(mowers: Worlds, fault: str) -> None:
    assert at_tester(mowers, "dark", fault) > 0.95
    assert at_tester(mowers, "lights", fault, UNPLUGGED) > 0.95


@pytest.mark.parametrize("fault", DEAD_COILS)
def test_a_dead_coil_stays_dark_with_the_stop_lead_unplugged(mowers: Worlds, fault: str) -> None:
    assert at_tester(mowers, "dark", fault, UNPLUGGED) > 0.95


@pytest.mark.parametrize("fault", SPARKS)
def test_plug_key_and_timing_do_not_darken_the_tester(mowers: Worlds, fault: str) -> None:
    assert at_tester(mowers, "lights", fault) > 0.95


def test_a_wide_gap_is_no_cause_of_a_dark_tester_at_a_usual_pull(mowers: Worlds) -> None:
    assert at_tester(mowers, "dark", "air-gap-wide") < 0.1


def test_a_mower_whose_control_is_let_go_is_dark(mowers: Worlds) -> None:
    dark = share(mowers, "spark-at-tester", "dark", None, "rope", frozenset({"plug-lead"}), AT_TESTER - HELD)
    assert dark > 0.9


def test_a_good_plug_starts_what_a_bad_plug_kept_from_starting(mowers: Worlds) -> None:
    for fault in ("plug-fouled", "plug-fails-under-pressure", "plug-gap-closed"):
        assert share(mowers, "start-cold", "does-not-start", fault, "rope", added=HELD) > 0.7
        assert share(mowers, "try-good-plug", "starts", fault, "rope", added=HELD | {"lent-plug"}) > 0.9


def test_a_good_plug_changes_nothing_on_a_dead_coil(mowers: Worlds) -> None:
    assert share(mowers, "try-good-plug", "no-change", "coil-dead", "rope", added=HELD | {"lent-plug"}) > 0.95


def test_an_ohmmeter_passes_a_coil_with_shorted_turns(mowers: Worlds) -> None:
    off = UNPLUGGED | {"shroud", "plug-lead"}
    assert share(mowers, "coil-primary-ohms", "in-range", "coil-shorted", off=off) > 0.9
    assert share(mowers, "coil-secondary-ohms", "in-range", "coil-shorted", off=off) > 0.9


def test_a_coil_that_fails_hot_starts_cold(mowers: Worlds) -> None:
    assert share(mowers, "start-cold", "starts", "coil-fails-hot", "rope", added=HELD) > 0.95


@pytest.mark.parametrize("fault", ["stop-switch-does-not-close", "stop-lead-broken", "control-does-not-return"])
def test_a_stop_that_does_not_stop_starts_well_and_runs_on(mowers: Worlds, fault: str) -> None:
    assert share(mowers, "start-cold", "starts", fault, "rope", added=HELD) > 0.95
    assert share(mowers, "engine-stops-on-release", "runs-on", fault, "running", added=HELD) > 0.9


def test_a_healthy_mower_stops_when_let_go(mowers: Worlds) -> None:
    assert share(mowers, "engine-stops-on-release", "stops", None, "running", added=HELD) > 0.98


def test_worn_pawls_slip_and_a_broken_rewind_hangs_out(mowers: Worlds) -> None:
    assert share(mowers, "rope-catches", "slips", "pawls-worn") > 0.9
    assert share(mowers, "rope-return", "hangs-out", "rewind-spring-broken") > 0.8
