"""What waits to be reckoned, and which of it comes next: first answers before settled ones, newer acts before older."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from threading import Event
from typing import Any

from firstpull.bench.reckoner import What
from firstpull.reasoning.prices import Prices
from firstpull.workshop.fold import JobRecord

HELP = 2  # first answers waiting at which the worker that settles lends a hand
FRONT, BACK, ALONE = "front", "back", "alone"


@dataclass(eq=False)
class Want:
    """A job whose answer is wanted: `first_there` once the quick one came; `eager` when somebody stands and waits."""

    mark: str
    record: JobRecord
    prices: Prices
    order: int
    eager: bool = True
    first_there: bool = False
    taken: bool = False
    crashes: int = 0

    @property
    def what(self) -> What:
        """What is to be reckoned next for it."""
        return "settled" if self.first_there else "first"


@dataclass(eq=False)
class Errand:
    """A single thing that a page asked for and waits for."""

    what: What
    mark: str
    record: JobRecord
    prices: Prices
    rest: tuple[Any, ...]
    value: Any = None
    failed: str = ""
    crashes: int = 0
    done: Event = field(default_factory=Event)


@dataclass(eq=False)
class Queue:
    """All wants, one a job, and the errands."""

    wants: dict[str, Want] = field(default_factory=dict)
    errands: deque[Errand] = field(default_factory=deque)

    @property
    def pressed(self) -> bool:
        """Whether so many first answers wait that the worker that settles should leave off and lend a hand."""
        return sum(w.eager and not w.first_there and not w.taken for w in self.wants.values()) >= HELP

    def pick(self, role: str) -> Want | Errand | None:
        """What a worker in this role should do now; it is marked as taken."""
        free = sorted((w for w in self.wants.values() if not w.taken), key=lambda w: (not w.eager, w.order))
        firsts = [w for w in free if not w.first_there]
        if role != BACK and firsts:
            return _taken(firsts[0])
        if role == BACK and self.pressed:
            return _taken([w for w in firsts if w.eager][-1])
        if role == FRONT:
            return None
        if self.errands:
            return self.errands.popleft()
        settles = [w for w in free if w.first_there]
        return _taken(settles[0]) if settles else None


def _taken(want: Want) -> Want:
    want.taken = True
    return want
