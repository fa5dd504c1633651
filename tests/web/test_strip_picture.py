"""A strip as lines, boxes and words."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as some

from firstpull.bench.strips import Strip, StripRow
from firstpull.web.strip_picture import LETTER, WIDTHS, Words, picture, tick_words

ROW = StripRow(1, "Coil dead", (1.0, 2.0, 3.0, 4.0, 5.0), (40, 60), 0)
UNREAD = StripRow(2, "Crank bent", (), (0, 0), 100)
HEALTHY = StripRow(0, "Healthy machine", (6.0, 7.0, 8.0, 9.0, 9.5), (0, 100), 0)


def numbers(axis: tuple[float, float] = (0.0, 10.0), log: bool = False, mark: float | None = None) -> Strip:
    """A strip of numbers."""
    return Strip("gap", "Gap", "mm", ("dark", "lights"), ((4.0, "Dark", "Lights"),), (40, 60), axis, axis,
                 (HEALTHY, ROW, UNREAD), log, mark)


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_drawn_outside_the_picture(width: int) -> None:
    for strip in (numbers(), numbers((1.0, 1000.0), True), numbers(mark=12.0)):
        found = picture(strip, width)
        assert all(0 <= x <= width for line in found.lines for x in (line.x1, line.x2))
        assert all(box.x >= 0 and box.x + box.width <= width for box in found.boxes)
        assert all(0 <= word.y <= found.height for word in found.words)


def test_what_could_not_be_read_is_said_and_not_drawn() -> None:
    found = picture(numbers(), 620)
    assert [w.text for w in found.words].count("could not be read") == 1
    assert len(found.boxes) == 2


def test_the_mark_stands_where_the_number_lies() -> None:
    half = picture(numbers(mark=5.0), 620).mark
    assert half == pytest.approx((230 + 598) / 2)


@given(some.lists(some.floats(0.01, 9.99), min_size=1, max_size=4, unique=True), some.sampled_from(WIDTHS))
def test_every_band_has_its_word_however_narrow_and_no_two_words_touch(edges: list[float], width: int) -> None:
    names = ("Very tight", "Tight", "In range", "Wide", "Very wide")
    limits = tuple((x, names[i], names[i + 1]) for i, x in enumerate(sorted(edges)))
    found = picture(replace(numbers(), limits=limits), width)
    drawn = {line.x1 for line in found.lines if line.look == "limit"}
    over = [w for w in found.words if w.text in names]
    assert len(over) >= len(drawn)
    spans = sorted((w.y, *_span(w)) for w in over)
    for (y, _, end), (next_y, start, _) in pairwise(spans):
        assert y != next_y or end <= start
    assert all(start >= 0 and end <= width for _, start, end in spans)
    assert min(line.y1 for line in found.lines) > max(w.y for w in over)


def _span(word: Words) -> tuple[float, float]:
    """From where to where a word reaches, as wide as its letters are taken to be."""
    long = LETTER * len(word.text)
    start = word.x - {"start": 0.0, "middle": long / 2, "end": long}[word.anchor]
    return start, start + long


@given(some.floats(min_value=-1e9, max_value=1e9))
def test_no_value_leaves_the_axis(value: float) -> None:
    found = picture(numbers((1.0, 100.0), True, value), 288)
    assert found.mark is not None
    assert 0 <= found.mark <= 288


def test_words_share_one_bar_by_their_chances() -> None:
    strip = Strip("spark", "Spark", "", ("dark", "lights"), (), (40, 60), (0.0, 1.0), (0.0, 1.0), (ROW,))
    bars = [b for b in picture(strip, 288).boxes if b.width != 28]
    assert [round(b.width) for b in bars] == [round(286 * 0.4), round(286 * 0.6)]


@pytest.mark.parametrize(("value", "words"), [(0.2, "0.2"), (2000.0, "2 k"), (5e7, "50 M")])
def test_a_tick_reads_as_people_say_it(value: float, words: str) -> None:
    assert tick_words(value) == words
