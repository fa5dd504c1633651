"""Which machines with a fault are brought in: those whose owner has something to complain of."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.select import ClassBook
from firstpull.practice.hidden import HiddenMachine
from firstpull.reasoning.acts import ComplaintAct
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import SHARED, Row, Worlds

FloatArray = NDArray[np.float64]

TRIES = 24  # machines with the fault looked at
NOTICED = 0.8  # share of uses beyond a sound machine's: who goes to a bench has seen it nearly always; judgement


@dataclass(frozen=True, eq=False)
class Arrival:
    """A machine at the counter, what its owner says, and in what share of uses more than a sound machine it shows."""

    machine: HiddenMachine
    complaint: str
    shows: float


def crowd(book: ClassBook, seed: int) -> Worlds:
    """Machines of a class among which one is looked for; worth keeping for several faults."""
    return Worlds(book, Conditions(100.0, 18.0), seed, TRIES)


def arrive(
    book: ClassBook, fault: str, seed: int, blunders: float = 1.0, shifted: dict[str, float] | None = None,
    many: Worlds | None = None,
) -> Arrival:
    """The first machine with this fault, in the order of its draws, whose owner would clearly notice something.

    When none of them shows enough, the one that shows most. `many` is the crowd of this class and seed, where it was
    made before and looked at under the same constants.
    """
    factors = dict(shifted or {})
    many = many or crowd(book, seed)
    scales = Scales(many)
    machines = [(Row(frozenset({fault})), SHARED), (Row(frozenset()), SHARED)]
    excess: dict[str, FloatArray] = {}
    often: dict[str, FloatArray] = {}
    with constants.shifted(factors):
        for complaint, entry in book.complaints.items():
            if entry.heard <= entry.false_alarm:  # said of sound machines as often: it brings nobody
                continue
            ill, sound = scales.complaint(ComplaintAct(complaint), machines, False)
            excess[complaint] = ill - sound
            often[complaint] = (ill - sound) / (entry.heard - entry.false_alarm)
    said = [max(excess, key=lambda c: float(excess[c][i])) for i in range(TRIES)]
    shows = np.array([often[c][i] for i, c in enumerate(said)])
    which = int(np.argmax(shows >= NOTICED)) if shows.max() >= NOTICED else int(np.argmax(shows))
    own = Worlds(book, many.conditions, seed, 1, (which, TRIES), traces=many.traces)
    machine = HiddenMachine(own, frozenset({fault}), seed, blunders, shifted=factors)
    return Arrival(machine, said[which], float(shows[which]))
