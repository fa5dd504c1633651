"""How hard a part is pencilled."""

from __future__ import annotations

import pytest

from firstpull.bench.drawing import draw, level_of, part_shares
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.worlds import Worlds
from firstpull.safety.state import at_rest


@pytest.fixture
def book(mower: Worlds) -> ClassBook:
    """The handbook of an overhead-valve mower."""
    return mower.book


@pytest.mark.parametrize(
    ("share", "level"),
    [(0.0, 0), (0.0199, 0), (0.02, 1), (0.0999, 1), (0.1, 2), (0.3, 3), (0.6999, 3), (0.7, 4), (1.0, 4)],
)
def test_a_share_has_the_level_that_the_legend_says(share: float, level: int) -> None:
    assert level_of(share) == level


def test_suspicion_of_a_part_is_the_sum_over_its_faults_and_never_above_one(book: ClassBook) -> None:
    coil = [f for f, entry in book.faults.items() if entry.part == "coil"]
    assert len(coil) > 2
    shares = part_shares(book, dict.fromkeys(coil, 0.25))
    assert shares["coil"] == pytest.approx(min(1.0, 0.25 * len(coil)))
    assert max(part_shares(book, dict.fromkeys(book.faults, 0.5)).values()) == 1.0


def test_what_is_off_is_drawn_off_and_what_is_added_takes_nothing_off(book: ClassBook) -> None:
    state = at_rest(book.access).moved("cover", "off").moved("control-held", "on")
    drawing = draw(book, state, {}, [])
    assert drawing.off("cover")
    assert not drawing.off("control")
    assert not drawing.has("no-such-part")


def test_a_balloon_points_to_the_part_its_fault_sits_in(book: ClassBook) -> None:
    drawing = draw(book, at_rest(book.access), {"coil-dead": 0.8}, [(3, "coil-dead"), (3, "stop-lead-chafed")])
    assert drawing.marks["coil"].numbers == (3,)
    assert drawing.level("coil") == 4
    assert "coil" in drawing.words
