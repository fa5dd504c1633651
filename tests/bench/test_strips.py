"""What a check would read, for a healthy machine and for the suspects, through the shop's own instrument."""

from __future__ import annotations

import pytest

from firstpull.bench.case import read_case
from firstpull.bench.session import Session
from firstpull.bench.stateless import start
from firstpull.bench.strips import Strip, strip
from firstpull.bench.worldroom import WorldRoom

CASE = {"machine": "walk-mower-ohv", "complaint": ["will-not-start"],
        "step": [{"check": "spark-at-tester", "reading": "dark"}]}
SUSPECTS = [(1, "Coil dead", frozenset({"coil-dead"})), (2, "Lead chafed", frozenset({"stop-lead-chafed"}))]


@pytest.fixture(scope="module")
def session(room: WorldRoom) -> Session:
    """A mower whose tester stayed dark."""
    return start(room, read_case(CASE, room.book), 1)


def made(session: Session, check: str, mark: float | None = None) -> Strip:
    """The strip of a check that has one."""
    found = strip(session, check, SUSPECTS, mark=mark)
    assert found is not None
    return found


def test_a_healthy_row_stands_first_and_a_spread_rises(session: Session) -> None:
    found = made(session, "spark-kilovolts")
    assert [r.number for r in found.rows] == [0, 1, 2]
    for row in found.rows:
        assert list(row.spread) == sorted(row.spread)
    healthy, dead = found.rows[0].spread, found.rows[1].spread
    assert healthy[0] > dead[4]  # a dead coil jumps no gap that a healthy one does


def test_the_chances_of_the_words_sum_to_all_that_can_happen(session: Session) -> None:
    for check in ("spark-kilovolts", "plug-wet-or-dry", "coil-gap"):
        for row in made(session, check).rows:
            assert 95 <= sum(row.chances) + row.unread <= 105  # each rounded to a whole in 100


def test_what_spans_many_decades_stands_on_a_scale_of_tens(session: Session) -> None:
    ohms, gap = made(session, "stop-lead-ohms-held"), made(session, "coil-gap")
    assert (ohms.log, gap.log) == (True, False)
    assert ohms.axis[0] > 0
    assert all(b / a >= 10 for a, b in zip(ohms.ticks, ohms.ticks[1:], strict=False))


def test_an_axis_has_at_most_six_round_ticks_and_holds_every_limit_and_the_mark(session: Session) -> None:
    found = made(session, "coil-gap", mark=1.4)
    assert 2 <= len(found.ticks) <= 6
    assert found.axis[0] <= 0.0 < 1.4 <= found.axis[1]
    assert [limit for limit, _, _ in found.limits] == sorted(limit for limit, _, _ in found.limits)


def test_what_is_no_check_of_the_class_has_no_strip(session: Session) -> None:
    assert strip(session, "will-not-start", SUSPECTS) is None
    assert strip(session, "points-gap", SUSPECTS) is None
