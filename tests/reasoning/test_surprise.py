"""How odd readings are: 1 without any, small when they contradict one another, and the odd one is named."""

from __future__ import annotations

from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.acts import ReadingAct
from firstpull.reasoning.surprise import surprise
from tests.acceptance.played import HELD, at_tester, session


def test_no_readings_are_no_surprise(room: WorldRoom) -> None:
    found = surprise(session(room, []).belief())
    assert (found.p_value, found.odd_one) == (1.0, None)


def test_an_ordinary_job_is_no_surprise(room: WorldRoom) -> None:
    steps = [HELD, at_tester("lights", "rope"), {"check": "magnet-pull", "reading": "strong"}]
    found = surprise(session(room, steps).belief())
    assert found.p_value > 0.1


def test_readings_that_fit_nothing_are_a_surprise_and_one_of_them_is_named(room: WorldRoom) -> None:
    steps = [HELD, at_tester("lights", "rope"), {"check": "magnet-pull", "reading": "weak"},
             {"check": "coil-gap", "reading": "1.1 mm"},
             {"check": "coil-rub-look", "reading": _bad(room, "coil-rub-look")}]
    belief = session(room, steps).belief()
    found = surprise(belief)
    assert found.p_value < 0.05
    assert found.odd_one is not None
    assert isinstance(belief.acts[found.odd_one], ReadingAct)


def _bad(room: WorldRoom, check: str) -> str:
    return room.book.checks[check].readings[0].outcomes[-1].id
