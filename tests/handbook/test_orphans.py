"""What is missing from a handbook is told, class by class."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.engine.machine import RULES
from firstpull.handbook.findings import Finding
from firstpull.handbook.noticed import noticed
from firstpull.handbook.orphans import gaps
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class

SAW = '\n[[machine]]\nid = "saw"\nname = "Saw"\nsource = "judgement"\nworth = [1, 2, 3]\ndrawing = "saw"\n'
SAW += 'sizes = { cycle = "two-stroke" }\n'
FOUR = 'only = { cycle = ["four-stroke"] }'


def told(book: Any) -> list[str]:
    found: list[Finding] = gaps(book)
    assert all(finding.gap for finding in found)
    return [f"{finding.kind} {finding.id}: {finding.what}" for finding in found]


def test_a_proof_that_a_class_cannot_give_is_missing(shelf: Any) -> None:
    book = load(shelf.write(("spins = true", f"spins = true\n{FOUR}"), add=SAW))
    assert "repair reroute: its proof 'spark' does not exist for saw" in told(book)


def test_a_fault_that_only_some_classes_can_cure_is_missing(shelf: Any) -> None:
    book = load(shelf.write(("minutes = 10", f"minutes = 10\n{FOUR}"), add=SAW))
    assert "fault lead-chafed: no repair cures it on saw" in told(book)


def test_a_whole_handbook_has_nothing_missing_that_can_be_told_without_the_engine(shelf: Any) -> None:
    assert [gap for gap in told(load(shelf.write())) if "the engine cannot say" not in gap] == []


def test_a_rate_for_a_class_that_the_fault_does_not_exist_for_is_told(shelf: Any) -> None:
    book = load(shelf.write(("mower = 10 }", f"saw = 1 }}\n{FOUR}"), add=SAW))
    (gap,) = [finding for finding in gaps(book) if finding.key == ("rate", "saw")]
    assert gap.what == "'saw' is not among those that 'only' lets in"


def test_sizes_of_which_no_engine_can_be_made_are_told_and_crash_nothing(shelf: Any) -> None:
    book = load(shelf.write(("displacement_cm3 = 160", "displacement_cm3 = 0, bore_mm = 0, stroke_mm = 0")))
    assert isinstance(told(book), list)


def test_a_check_by_eye_notices_its_parameter(shelf: Any) -> None:
    mower = for_class(load(shelf.write()), "mower")
    assert "stop_lead_chafe" in noticed(mower).parameters["look-at-lead"]


def test_a_fault_that_no_check_notices_is_missing(shelf: Any) -> None:
    swaps = [('reads = "tester_margin"\nscatter', 'reads = "stop_switch_ohm"\nunit = "ohm"\nscatter')]
    book = load(shelf.write(*swaps))
    assert "fault lead-chafed: no check notices what it moves" in told(book)
    assert "repair reroute: its proof does not notice 'lead-chafed', which it cures" in told(book)


def test_a_set_up_that_no_physics_asks_for_is_told_with_the_nearest(shelf: Any) -> None:
    book = load(shelf.write(("spins = true", "spins = true\nsetup = { tester_gap_mmm = 4 }")))
    (gap,) = [finding for finding in gaps(book) if "no physics asks" in finding.what]
    assert (gap.kind, gap.id, gap.key) == ("check", "spark", ("setup", "tester_gap_mmm"))
    assert gap.right == "did you mean 'tester_gap_mm'?"


def test_a_long_name_is_told(shelf: Any) -> None:
    book = load(shelf.write(("Reroute the stop lead", "Reroute the stop lead and clip it")))
    assert "repair reroute: a name of 33 characters" in told(book)


def test_an_observable_that_the_engine_cannot_say_yet_is_missing(shelf: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(RULES, "tester_margin")
    gaps_of_checks = [gap for gap in told(load(shelf.write())) if gap.startswith("check")]
    assert gaps_of_checks == ["check spark: the engine cannot say 'tester_margin': no rule for 'tester_margin'"]
