"""Minutes from the clock."""

from __future__ import annotations

from firstpull.workshop.events import Event
from firstpull.workshop.minutes import worked


def clock(seq: int, state: str, at: str, by: str = "sam", **body: object) -> Event:
    at = f"2026-04-11T{at}:00.000Z" if len(at) == 5 else at
    return Event("J1", seq, f"a{seq}", 0, "clock", 1, at, by, {"state": state, **body})


def test_pauses_are_not_worked() -> None:
    events = [clock(1, "started", "09:00"), clock(2, "paused", "09:10"), clock(3, "started", "09:30")]
    assert worked([*events, clock(4, "paused", "09:35")]).hands_on == 15


def test_two_hands_have_two_clocks() -> None:
    events = [clock(1, "started", "09:00"), clock(2, "started", "09:05", "kim"), clock(3, "paused", "09:10")]
    found = worked([*events, clock(4, "paused", "09:15", "kim")])
    assert (found.hands_on, found.running) == (20, ())


def test_soaking_is_not_labour() -> None:
    found = worked([clock(1, "started", "09:00", waiting=True), clock(2, "paused", "09:40")])
    assert (found.hands_on, found.waiting) == (0, 40)


def test_a_clock_that_was_set_back_takes_no_minutes_away() -> None:
    events = [clock(1, "started", "09:00"), clock(2, "paused", "08:00"), clock(3, "started", "08:01")]
    assert worked([*events, clock(4, "paused", "08:06")]).hands_on == 5


def test_an_open_spell_counts_up_to_the_moment_asked_for() -> None:
    events = [clock(1, "started", "09:00")]
    assert worked(events).hands_on == 0
    assert worked(events).running == (("sam", "2026-04-11T09:00:00.000Z"),)
    assert worked(events, "2026-04-11T09:07:00.000Z").hands_on == 7


def test_a_forgotten_pause_is_pointed_out() -> None:
    assert worked([clock(1, "started", "09:00"), clock(2, "paused", "16:00")]).doubtful == ("a2",)


def test_a_pause_without_a_start_and_a_moment_that_cannot_be_read_count_nothing() -> None:
    assert worked([clock(1, "paused", "09:00")]).hands_on == 0
    assert worked([clock(1, "started", "some time today"), clock(2, "paused", "09:10")]).hands_on == 0


def test_pressing_start_again_goes_on_counting() -> None:
    events = [clock(1, "started", "09:00"), clock(2, "started", "09:10"), clock(3, "paused", "09:20")]
    assert worked(events).hands_on == 20


def test_a_clock_entered_late_counts_when_it_ran() -> None:
    late = clock(2, "paused", "12:00", when="2026-04-11T09:10:00.000Z")
    assert worked([clock(1, "started", "09:00"), late]).hands_on == 10
