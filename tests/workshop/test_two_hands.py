"""What waits for a look when somebody else was at the machine."""

from __future__ import annotations

import pytest

from firstpull.workshop.events import KINDS, Event
from firstpull.workshop.two_hands import WAITS_FOR_A_LOOK, to_look_at


def event(kind: str, by: str, seq: int = 0, based_on: int = 0, act_id: str = "") -> Event:
    return Event("J1", seq, act_id or f"{by}{seq}", based_on, kind, 1, "2026-04-11T09:00:00.000Z", by, {})


@pytest.mark.parametrize("kind", sorted(WAITS_FOR_A_LOOK))
def test_an_act_on_a_machine_somebody_else_changed_waits(kind: str) -> None:
    since = [event("access", "kim", 2)]
    assert to_look_at(event(kind, "sam", based_on=1), since) == tuple(since)


@pytest.mark.parametrize("kind", sorted(set(KINDS) - WAITS_FOR_A_LOOK))
def test_readings_notes_and_the_like_never_wait(kind: str) -> None:
    assert to_look_at(event(kind, "sam", based_on=1), [event("access", "kim", 2)]) == ()


@pytest.mark.parametrize("kind", ["note", "advised", "reading", "clock", "photo"])
def test_what_leaves_the_machine_as_it_is_needs_no_look(kind: str) -> None:
    assert to_look_at(event("access", "sam", based_on=1), [event(kind, "kim", 2)]) == ()


def test_my_own_acts_sent_late_in_a_row_do_not_stop_each_other() -> None:
    assert to_look_at(event("access", "sam", based_on=1), [event("access", "sam", 2)]) == ()


def test_what_was_seen_already_needs_no_second_look() -> None:
    assert to_look_at(event("release", "sam", based_on=2), [event("access", "kim", 2)]) == ()
