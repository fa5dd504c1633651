"""What was typed becomes what reasoning takes, or is refused with what would be right."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.reading import read_values
from firstpull.handbook.book import Book
from firstpull.reasoning.acts import Read
from tests.bench.odd_values import VALUES


def test_an_outcome_is_known_by_its_id_its_name_and_the_words_people_use(book: Book) -> None:
    check = book.checks["spark-at-tester"]
    for word in ("dark", "Dark", "no spark", " DARK "):
        assert read_values(check, word) == (Read(word="dark"),)


def test_a_number_is_converted_into_the_unit_of_its_reading(book: Book) -> None:
    (read,) = read_values(book.checks["compression-dry"], "62 psi")
    assert read.number == pytest.approx(62 * 6.894757, rel=1e-6)  # kPa in a psi: NIST SP 811 (2008)
    (read,) = read_values(book.checks["coil-gap"], "0,3 mm")
    assert read.number == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("raw", "says"),
    [("62", "say the unit"), (62, "say the unit"), ("62 mm", "pressure"), ("62 bananas", "unknown unit"),
     ("fine", "not a number with a unit"), (True, "not a reading"), (None, "not a reading"), ({}, "empty"),
     ({"volts": "3 V"}, "not a reading of"), (float("nan"), "nan"), (float("inf"), "inf"), ("1e999 psi", "too large")],
)
def test_a_wrong_unit_or_none_is_refused_with_what_would_be_right(book: Book, raw: Any, says: str) -> None:
    with pytest.raises(InputError) as caught:
        read_values(book.checks["compression-dry"], raw)
    assert says in str(caught.value)
    assert caught.value.right


def test_a_table_gives_several_readings_and_may_leave_some_out(book: Book) -> None:
    check = book.checks["leak-down"]
    both = read_values(check, {"loss": "85 %", "hiss": ["carburettor", "muffler"]})
    assert both == (Read("loss", number=85.0), Read("hiss", places=("carburettor", "muffler")))
    assert read_values(check, {"hiss": "muffler"}) == (Read("hiss", places=("muffler",)),)
    assert read_values(check, {"hiss": ["nowhere"]}) == (Read("hiss", places=()),)
    assert read_values(check, "85 %") == (Read("loss", number=85.0),)
    assert read_values(check, ["muffler"]) == (Read("hiss", places=("muffler",)),)


def test_a_place_nobody_knows_is_refused(book: Book) -> None:
    with pytest.raises(InputError, match="pushrod-side"):
        read_values(book.checks["leak-down"], {"hiss": ["elbow"]})


def test_every_check_takes_the_three_words_that_are_no_outcome(book: Book) -> None:
    for check in book.checks.values():
        assert read_values(check, "not-done") == ()
        assert [r.word for r in read_values(check, "not-possible")] == ["not-possible"]
        assert [r.word for r in read_values(check, "now-and-then")] == ["now-and-then"]


def test_every_outcome_of_every_check_can_be_entered(book: Book) -> None:
    for check in book.checks.values():
        for reading in check.readings:
            for outcome in reading.outcomes:
                raw: Any = [outcome.id] if reading.several else outcome.id
                (read,) = read_values(check, {reading.key: raw} if reading.key else raw)
                assert read.places == (outcome.id,) if reading.several else read.word == outcome.id


@pytest.mark.parametrize(("spread", "kpa"), [("1 psi", 6.894757), (5, 5.0), ("+-3 kPa", None), (None, 0.0), ("", 0.0)])
def test_a_give_or_take_is_a_width_in_the_unit_of_the_reading(book: Book, spread: Any, kpa: float | None) -> None:
    if kpa is None:
        with pytest.raises(InputError):
            read_values(book.checks["compression-dry"], "62 psi", spread)
        return
    (read,) = read_values(book.checks["compression-dry"], "62 psi", spread)
    assert read.spread == pytest.approx(kpa, rel=1e-6)


@pytest.mark.parametrize("spread", ["   ", "-1 psi", -1, float("nan"), float("inf"), 10**400, "3", "3 mm", [3], True])
def test_a_give_or_take_that_is_none_is_refused(book: Book, spread: Any) -> None:
    with pytest.raises(InputError):
        read_values(book.checks["compression-dry"], "62 psi", spread)


@settings(max_examples=150)
@given(raw=VALUES, spread=VALUES)
def test_no_reading_however_odd_gives_anything_but_a_refusal(book: Book, raw: Any, spread: Any) -> None:
    for name in ("compression-dry", "leak-down", "spark-at-tester", "what-came-out"):
        try:
            reads = read_values(book.checks[name], raw, spread)
        except FirstpullError:
            continue
        assert all(r.number is None or math.isfinite(r.number) for r in reads)
        assert all(math.isfinite(r.spread) for r in reads)
