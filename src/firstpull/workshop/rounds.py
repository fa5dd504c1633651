"""A round: one step over several machines, and what the bench can do while one of them soaks, cools or drips.

Waiting frees the hands. The order is for one pair of hands and any number of trays: long waits start
first, so that they run while the rest is worked on; machines that only need hands come in between.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.workshop.events import Event, new_event


@dataclass(frozen=True, slots=True)
class Turn:
    """What one machine of the round needs: hands to put it in, waiting on its own, hands to take it out."""

    job: str
    hands_in: float
    waiting: float = 0.0
    hands_out: float = 0.0

    def __post_init__(self) -> None:
        """Refuse minutes that are none.

        Raises:
            InputError: for a negative or endless time.
        """
        if not all(0.0 <= one < 100_000 for one in (self.hands_in, self.waiting, self.hands_out)):
            raise InputError("minutes that are none", f"turn of {self.job}", "0 or more")


@dataclass(frozen=True, slots=True)
class Slot:
    """One stretch of hands on one machine, in minutes from the start of the round."""

    job: str
    act: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Round:
    """The order of work, how long it takes, and how long the hands are free for something else."""

    slots: tuple[Slot, ...]
    minutes: float
    hands_on: float
    one_by_one: float

    @property
    def free(self) -> float:
        """Minutes within the round in which the bench is free."""
        return self.minutes - self.hands_on

    @property
    def saved(self) -> float:
        """Minutes gained over doing one machine after the other."""
        return self.one_by_one - self.minutes


def plan_round(turns: Sequence[Turn]) -> Round:
    """Put in first what takes longest afterwards, take out first what is ready first."""
    free_at = 0.0
    slots: list[Slot] = []
    ready: list[tuple[float, Turn]] = []
    for turn in sorted(turns, key=lambda one: (-(one.waiting + one.hands_out), one.job)):
        slots.append(Slot(turn.job, "in", free_at, free_at + turn.hands_in))
        free_at += turn.hands_in
        if turn.waiting or turn.hands_out:
            ready.append((free_at + turn.waiting, turn))
    end = free_at
    for when, turn in sorted(ready, key=lambda one: (one[0], one[1].job)):
        start = max(free_at, when)
        free_at = start + turn.hands_out
        end = max(end, free_at)
        if turn.hands_out:
            slots.append(Slot(turn.job, "out", start, free_at))
    hands_on = sum(one.hands_in + one.hands_out for one in turns)
    one_by_one = sum(one.hands_in + one.waiting + one.hands_out for one in turns)
    return Round(tuple(slots), end, hands_on, one_by_one)


def round_events(
    jobs: Sequence[str], kind: str, body: Mapping[str, object], *, by: str, at: str, act_id: str
) -> tuple[Event, ...]:
    """The same step on each machine as one act: stored together, and taken back together.

    Raises:
        FirstpullError: when the body cannot be read.
    """
    return tuple(new_event(job, kind, body, by=by, at=at, act_id=act_id) for job in dict.fromkeys(jobs))
