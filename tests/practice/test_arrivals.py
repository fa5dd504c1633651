"""Who comes to the counter: machines whose owner has something to complain of."""

from __future__ import annotations

from firstpull.practice.arrivals import NOTICED, arrive
from firstpull.reasoning.worlds import Worlds


def test_the_owner_says_what_such_a_machine_does(mower: Worlds) -> None:
    dead, rope = arrive(mower.book, "coil-dead", 3), arrive(mower.book, "rope-broken", 3)
    assert dead.complaint == "will-not-start"
    assert rope.complaint == "rope-broke"
    assert min(dead.shows, rope.shows) >= NOTICED


def test_a_fault_that_seldom_shows_comes_as_a_machine_on_which_it_does(mower: Worlds) -> None:
    first = arrive(mower.book, "air-gap-wide", 5)
    again = arrive(mower.book, "air-gap-wide", 5)
    assert first.machine.complains(first.complaint) == again.machine.complains(again.complaint)
    assert first.machine.faults == frozenset({"air-gap-wide"})
