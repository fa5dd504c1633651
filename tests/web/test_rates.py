"""How often each may ask."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as some

from firstpull.web.rates import MOST_KEPT, Pace, Rates


class Ticks:
    """Seconds that pass when they are told to."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


def test_so_many_at_once_and_then_a_wait_that_is_enough() -> None:
    ticks = Ticks()
    rates = Rates(ticks)
    pace = Pace(3, 0.5)
    assert [rates.wait("a", pace) for _ in range(4)] == [0, 0, 0, 2]
    ticks.now = 2.0
    assert rates.wait("a", pace) == 0
    assert rates.wait("a", pace) > 0


def test_one_who_asks_too_much_holds_up_nobody_else() -> None:
    rates = Rates(Ticks())
    for _ in range(9):
        rates.wait("a", Pace(3, 0.5))
    assert rates.wait("b", Pace(3, 0.5)) == 0


@given(some.lists(some.floats(0, 5), max_size=60))
def test_never_more_than_the_pace_allows(gaps: list[float]) -> None:
    ticks = Ticks()
    rates, pace, passed = Rates(ticks), Pace(4, 1.0), 0
    for gap in gaps:
        ticks.now += gap
        passed += rates.wait("a", pace) == 0
    assert passed <= pace.at_once + ticks.now * pace.a_second + 1e-6


def test_memory_is_bounded_by_who_asked_last() -> None:
    rates = Rates(Ticks())
    for number in range(MOST_KEPT + 50):
        rates.wait(str(number), Pace(1, 0.001))
    assert rates.wait(str(MOST_KEPT + 49), Pace(1, 0.001)) > 0
    assert len(rates._left) <= MOST_KEPT
