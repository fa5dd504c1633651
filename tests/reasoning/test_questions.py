"""What is worth asking at the counter."""

from __future__ import annotations

from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.questions import MOST_ASKED, worth_asking
from tests.acceptance.played import session


def test_at_most_five_questions_the_most_telling_first(room: WorldRoom) -> None:
    asked = worth_asking(session(room, []).belief())
    assert 0 < len(asked) <= MOST_ASKED
    assert [a.bits for a in asked] == sorted((a.bits for a in asked), reverse=True)


def test_nothing_is_asked_twice(room: WorldRoom) -> None:
    first = worth_asking(session(room, []).belief())[0].fact
    again = worth_asking(session(room, [{"told": first, "answer": "no"}]).belief())
    assert first not in {a.fact for a in again}


def test_does_not_know_is_an_answer_that_moves_nothing(room: WorldRoom) -> None:
    first = worth_asking(session(room, []).belief())[0].fact
    before = session(room, []).belief().fault_probability
    after = session(room, [{"told": first, "answer": "unknown"}]).belief().fault_probability
    assert all(abs(after[f] - before[f]) < 1e-9 for f in before)


def test_a_kick_back_asks_whether_it_struck_something(room: WorldRoom) -> None:
    asked = worth_asking(session(room, [], complaint=["kicks-back"]).belief())
    assert "struck-something" in {a.fact for a in asked}
