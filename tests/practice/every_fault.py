"""Every fault of the handbook on one machine, brought in by its owner and played to the end as advised.

Few variants and the first answer only, so that all of them fit into minutes; `make prove` plays the settled answers.
"""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.select import ClassBook, for_class
from firstpull.practice.arrivals import arrive
from firstpull.practice.playing import Game, Score
from firstpull.reasoning.laying import PROOF_MINUTES
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.worlds import Worlds

SEED = 20_000
VARIANTS = 64
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


def faults_of(book: Book, machine: str) -> list[str]:
    """The faults that this class plays: every fault is played in one class of those that have it, in turn."""
    found = []
    for number, fault in enumerate(book.faults):
        having = [m for m in book.machines if fault in for_class(book, m).faults]
        if having and having[number % len(having)] == machine:
            found.append(fault)
    return found


def play_all(book: Book, machine: str) -> list[Played]:
    """The faults of one class, each on one machine; those that no owner would notice are left out."""
    worlds = Worlds(for_class(book, machine), Conditions(), count=VARIANTS)
    found = []
    for fault in faults_of(book, machine):
        came = arrive(worlds.book, fault, SEED)
        if came.shows >= SHOWS:
            score = Game(worlds, came.machine, came.complaint, depth=1, settle=False).play()
            found.append(Played(fault, came.complaint, score, _dear(worlds.book, fault)))
    return found


def _dear(book: ClassBook, fault: str) -> bool:
    """Whether even the cheapest cure costs more than the shop spends on a machine of this worth."""
    prices = Prices()
    cures = [r for r in book.repairs.values() if fault in r.cures]
    least = min((prices.minutes(sum(p.usual for p in r.parts)) + r.minutes + PROOF_MINUTES for r in cures), default=0.0)
    return not cures or least > prices.minutes(prices.worth_share * book.machine.worth[1])


def check_class(book: Book, machine: str) -> None:
    """What holds of every job, and of nearly all jobs, of one class."""
    jobs = play_all(book, machine)
    assert jobs
    for job in jobs:
        assert job.score.unsafe == [], (job.fault, job.score.steps)
        assert job.score.unproven_dear_parts == 0, (job.fault, job.score.steps)
    missed = [(j.fault, j.complaint, j.score.ended, j.score.steps) for j in jobs if not j.good]
    assert len(missed) <= max(1, len(jobs) // 5), missed
