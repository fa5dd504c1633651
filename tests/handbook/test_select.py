"""What of the handbook holds for one machine class."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import HandbookError
from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class, holds

SAW = """
[[machine]]
id = "saw"
name = "Saw"
source = "judgement"
worth = [50, 100, 200]
drawing = "saw"
sizes = { cycle = "two-stroke" }
"""
FOUR = 'only = { cycle = ["four-stroke"] }'


def test_an_entry_exists_only_for_classes_with_its_traits(shelf: Any) -> None:
    book = load(shelf.write(("spins = true", "spins = true\n" + FOUR), add=SAW))
    assert "spark" in for_class(book, "mower").checks
    assert "spark" not in for_class(book, "saw").checks
    assert "look-at-lead" in for_class(book, "saw").checks
    assert holds({}, {})
    assert holds({"cycle": ("a", "b"), "valves": ("c",)}, {"cycle": "b", "valves": "c"})
    assert not holds({"cycle": ("a", "b"), "valves": ("c",)}, {"cycle": "b", "valves": "d"})


def test_a_rate_of_the_class_goes_before_the_default_and_zero_means_never(shelf: Any) -> None:
    book = load(shelf.write(add=SAW))
    assert for_class(book, "mower").rates == {"lead-chafed": 10}
    assert for_class(book, "saw").rates == {"lead-chafed": 8}
    never = for_class(load(shelf.write(("mower = 10", "saw = 0"), add=SAW)), "saw")
    assert never.faults == {}
    assert never.repairs == {}  # nothing left for it to cure
    unsaid = for_class(load(shelf.write(("default = 8, ", ""), add=SAW)), "saw")
    assert unsaid.faults == {}


def test_sizes_and_healthy_spreads_are_whole_and_the_class_has_the_last_word(shelf: Any) -> None:
    mower = for_class(load(shelf.write()), "mower")
    assert set(mower.sizes) == set(SIZES)
    assert set(mower.healthy) == set(PARAMETERS)
    assert mower.sizes["displacement_cm3"] == 160
    gap = mower.healthy["air_gap_mm"]
    assert (gap.form, gap.a, gap.b) == ("normal", 0.25, 0.02)
    assert (gap.low, gap.high) == (PARAMETERS["air_gap_mm"].low, PARAMETERS["air_gap_mm"].high)
    assert mower.healthy["stop_lead_ohm"] == PARAMETERS["stop_lead_ohm"].healthy
    assert mower.specs["air-gap"].high == 0.3


def test_minutes_of_an_access_item_are_those_of_the_class(shelf: Any) -> None:
    book = load(shelf.write(add=SAW))
    assert for_class(book, "mower").minutes["stop-lead"] == (2, 3)
    assert for_class(book, "saw").minutes["stop-lead"] == (1, 1.5)


def test_a_thing_that_the_class_does_not_have_is_in_nobodys_way(shelf: Any) -> None:
    swaps = [
        ("off_minutes = 1\n", f"off_minutes = 1\n{FOUR}\n"),
        ("spins = true", 'spins = true\nneeds = { off = ["stop-lead"] }'),
        ("minutes = 10", 'minutes = 10\nneeds = { off = ["stop-lead"] }'),
        ('drive = "rope"', 'drive = "rope"\nneeds = { on = ["stop-lead"] }'),
    ]
    book = load(shelf.write(*swaps, add=SAW))
    mower, saw = for_class(book, "mower"), for_class(book, "saw")
    assert mower.checks["spark"].needs.off == ("stop-lead",)
    assert mower.checks["spark"].varies == ("stop-lead",)
    assert mower.repairs["reroute"].needs.off == ("stop-lead",)
    assert mower.drives[0].needs.on == ("stop-lead",)
    assert saw.checks["spark"].needs.off == ()
    assert saw.checks["spark"].varies == ()
    assert saw.repairs["reroute"].needs.off == ()
    assert saw.drives[0].needs.on == ()
    assert saw.minutes == {}


def test_a_class_is_known_by_the_book_and_its_id(shelf: Any) -> None:
    book = load(shelf.write(add=SAW))
    assert for_class(book, "saw") == for_class(book, "saw")
    assert hash(for_class(book, "saw")) == hash(for_class(book, "saw"))
    assert for_class(book, "saw") != for_class(book, "mower")
    assert for_class(load(shelf.write(("10 }", "11 }"), add=SAW)), "saw") != for_class(book, "saw")


def test_an_unknown_class_is_refused_with_the_nearest(shelf: Any) -> None:
    with pytest.raises(HandbookError, match=r"no machine class 'mover'.*did you mean 'mower'"):
        for_class(load(shelf.write()), "mover")
