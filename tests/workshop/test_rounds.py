"""One step over several machines."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import InputError
from firstpull.workshop.fold import fold
from firstpull.workshop.rounds import Turn, plan_round, round_events

TIME = st.floats(0, 120).map(lambda minutes: round(minutes, 1))


def test_four_carburettors_soak_at_the_same_time() -> None:
    found = plan_round([Turn(f"J{n}", 5, 40, 10) for n in range(4)])
    assert (found.one_by_one, found.minutes, found.hands_on) == (220, 85, 60)
    assert (found.free, found.saved) == (25, 135)


def test_the_longest_soak_goes_in_first() -> None:
    found = plan_round([Turn("short", 5, 10, 5), Turn("long", 5, 60, 5)])
    assert [slot.job for slot in found.slots] == ["long", "short", "short", "long"]
    assert found.minutes == 70


@given(st.lists(st.tuples(TIME, TIME, TIME), max_size=7))
def test_hands_are_in_one_place_and_no_soak_is_cut_short(times: list[tuple[float, float, float]]) -> None:
    turns = [Turn(f"J{n}", *three) for n, three in enumerate(times)]
    found = plan_round(turns)
    ordered = sorted(found.slots, key=lambda slot: (slot.start, slot.end))
    assert all(one.end <= other.start + 1e-9 for one, other in pairwise(ordered))
    ends = {slot.job: slot.end for slot in found.slots if slot.act == "in"}
    waits = {turn.job: turn.waiting for turn in turns}
    assert all(s.start >= ends[s.job] + waits[s.job] - 1e-9 for s in found.slots if s.act == "out")
    longest = max((sum(three) for three in times), default=0.0)
    assert max(longest, found.hands_on) - 1e-9 <= found.minutes <= found.one_by_one + 1e-9


def test_times_that_are_none_are_refused() -> None:
    with pytest.raises(InputError):
        Turn("J1", -1)
    with pytest.raises(InputError):
        Turn("J1", 1, float("nan"))


def test_a_round_is_one_act_and_is_taken_back_as_one() -> None:
    at = "2026-04-11T09:00:00Z"
    events = round_events(["J1", "J2", "J1"], "repair", {"repair": "soak"}, by="sam", at=at, act_id="round-1")
    assert [(one.job, one.act_id) for one in events] == [("J1", "round-1"), ("J2", "round-1")]
    undo = round_events(["J1", "J2"], "withdrawn", {"acts": ["round-1"]}, by="sam", at=at, act_id="undo")
    assert fold([events[0], undo[0]]).repairs == ()
