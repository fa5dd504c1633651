"""Every fault once, each on one machine brought in by its owner and played to the end as advised.

Few variants and the first answer only, so that they fit into minutes; `make prove` plays them settled, on two worlds.
"""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.select import ClassBook, for_class
from firstpull.practice.arrivals import arrive, crowd
from firstpull.practice.playing import Game, Score, all_unlocked
from firstpull.reasoning.laying import PROOF_MINUTES
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.worlds import Worlds

SEED = 20_000
VARIANTS = 64
MOST_MISSED = 0.15  # with so few variants and no settled answer; the long grid is held to more
SHOWS = 0.3  # less than this of all uses brings nobody to a bench


@dataclass(frozen=True)
class Played:
    """One fault, how its job went, and whether mending it would cost more than the shop would spend."""

    fault: str
    complaint: str
    score: Score
    dear: bool

    @property
    def good(self) -> bool:
        """Found, proven and mended; or honestly not worth it."""
        return self.score.found_and_proven or (self.dear and self.score.ended == "given up")


def sample(book: Book, machines: tuple[str, ...]) -> list[tuple[str, str]]:
    """The faults that play in these classes: each in one class of those that have it, in turn."""
    found = []
    faults = {m: for_class(book, m).faults for m in book.machines}
    for number, fault in enumerate(book.faults):
        having = [m for m in book.machines if fault in faults[m]]
        if having and having[number % len(having)] in machines:
            found.append((having[number % len(having)], fault))
    return sorted(found)


def play_all(book: Book, machines: tuple[str, ...]) -> list[Played]:
    """The faults of some classes; those that no owner would notice are left out."""
    found = []
    known: dict[str, tuple[Worlds, Worlds]] = {}
    for machine, fault in sample(book, machines):
        if machine not in known:
            mine = for_class(book, machine)
            many = crowd(mine, SEED)
            known = {machine: (Worlds(mine, Conditions(), count=VARIANTS, traces=many.traces), many)}
        worlds, many = known[machine]
        came = arrive(worlds.book, fault, SEED, many=many)
        if came.shows >= SHOWS:
            prices = all_unlocked(worlds.book)
            score = Game(worlds, came.machine, came.complaint, prices, depth=1, settle=False).play()
            found.append(Played(fault, came.complaint, score, _dear(worlds.book, fault)))
    return found


def _dear(book: ClassBook, fault: str) -> bool:
    """Whether even the cheapest cure costs more than the shop spends on a machine of this worth."""
    prices = Prices()
    cures = [r for r in book.repairs.values() if fault in r.ends]
    least = min((prices.minutes(sum(p.usual for p in r.parts)) + r.minutes + PROOF_MINUTES for r in cures), default=0.0)
    return not cures or least > prices.minutes(prices.worth_share * book.machine.worth[1])


def check_machines(book: Book, machines: tuple[str, ...]) -> None:
    """What holds of every job, and of most jobs, in these classes."""
    jobs = play_all(book, machines)
    assert len(jobs) >= 100
    assert [(j.fault, j.score.unsafe) for j in jobs if j.score.unsafe] == []
    missed = [(j.fault, j.complaint, j.score.ended, j.score.steps) for j in jobs if not j.good]
    assert len(missed) <= len(jobs) * MOST_MISSED, missed
