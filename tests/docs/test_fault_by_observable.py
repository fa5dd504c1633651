"""The table of faults: the committed page is what the code prints, and every fault moves something that is read."""

from __future__ import annotations

import re

import pytest

from benchmarks.fault_table import COMMAND, PAGE, Shift, everywhere, fault_rows, handbook, models, shifts

EVERY = 30  # of the faults, one in so many is worked out again in all classes
NUMBER = re.compile(r"[+-]?\d+\.?\d*")


def printed(fault: str) -> list[str]:
    """The rows of one fault on the page."""
    return [line for line in PAGE.read_text(encoding="utf-8").splitlines() if line.startswith(f"| {fault} |")]


def words(row: str) -> str:
    return NUMBER.sub("#", row)


def numbers(row: str) -> list[float]:
    return [float(found) for found in NUMBER.findall(row)]


def test_the_page_has_rows_for_every_fault_of_the_handbook_and_for_no_other() -> None:
    lines = PAGE.read_text(encoding="utf-8").partition("## Faults")[2].splitlines()
    named = {line.split(" | ")[0].removeprefix("| ") for line in lines[4:]}
    assert named == set(handbook().faults), f"run {COMMAND}"


def test_a_sample_of_the_page_is_what_the_code_prints() -> None:
    sample = list(handbook().faults)[::EVERY]
    found = everywhere(handbook(), sample)
    for fault in sample:
        made = fault_rows(fault, [s for s in found if s.fault == fault])
        there = printed(fault)
        assert list(map(words, there)) == list(map(words, made)), f"run {COMMAND}"
        for old, new in zip(there, made, strict=True):
            assert numbers(old) == pytest.approx(numbers(new), rel=0.02, abs=0.11), f"run {COMMAND}"


def test_the_shares_of_the_observation_models_are_those_of_the_handbook() -> None:
    text = PAGE.read_text(encoding="utf-8")
    for line in models(handbook()):
        assert line in text, f"run {COMMAND}"


def test_every_fault_moves_something_that_a_check_reads_by_a_healthy_spread() -> None:
    book, left = handbook(), dict.fromkeys(handbook().faults, 0.0)
    for machine in book.machines:
        here = [fault for fault, size in left.items() if size < 1.0]
        for found in shifts(book, machine, here) if here else []:
            left[found.fault] = max(left[found.fault], found.size)
    assert {fault: round(size, 2) for fault, size in left.items() if size < 1.0} == {}


def test_a_fault_that_moves_nothing_would_be_noticed() -> None:
    still = Shift("quiet", "walk-mower-ohv", "compression_kpa", "still", 0.0, 0.0)
    assert fault_rows("quiet", [still]) == []
    assert still.size == 0.0


def test_a_fault_that_silences_the_engine_counts_though_no_median_moves() -> None:
    assert Shift("dead", "walk-mower-ohv", "idle_rpm", "running", 0.0, 0.5).size > 1.0


def test_what_a_fault_does_not_act_on_is_not_listed() -> None:
    moved = {s.quantity for s in shifts(handbook(), "walk-mower-ohv", ["air-gap-wide"])}
    assert "tester_margin" in moved
    assert "leakdown_percent" not in moved
