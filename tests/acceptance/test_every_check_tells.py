"""Every check tells something somewhere: on some class it tells some fault from a sound machine.

Common practice, no source: a check that reads the same whatever is wrong has no place on a bench.
"""

from __future__ import annotations

import numpy as np

from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.select import for_class
from firstpull.reasoning.belief import fold
from firstpull.reasoning.information import mutual_bits
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.table import LiveState, outcome_tables, standing
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds

TELLS = 0.05  # bits between a sound machine and one with the fault, when the one is as likely as the other
VARIANTS = 24
EVEN = np.array([0.5, 0.5])
# Classes with much of their own first, so that the rest has little left to show.
FIRST = ("ride-on-single", "generator-brush-50", "chain-saw", "pressure-washer", "walk-mower-sv-points")


def telling(worlds: Worlds, names: set[str]) -> set[str]:
    """The checks among these that tell a fault of the class from a sound machine, in some arrangement."""
    book, scales = worlds.book, Scales(worlds)
    even = np.full(worlds.count, 1.0 / worlds.count)
    states = [LiveState(frozenset(), 0.5, even), *(LiveState(frozenset({f}), 0.5, even) for f in book.faults)]
    asked = standing(fold(scales, [(frozenset(), 0.0)], []), states)
    options = [o for name in sorted(names & set(book.checks)) for o in check_options(book, book.checks[name])]
    tables = outcome_tables(scales, asked, [(o.id, arrangement_of(book, o)) for o in options])
    return {
        o.id for o, table in zip(options, tables, strict=True)
        if any(mutual_bits(table[:, [0, i]], EVEN) > TELLS for i in range(1, len(states)))
    }


def test_every_check_tells_some_fault_from_a_sound_machine(room: WorldRoom) -> None:
    left = set(room.book.checks)
    for machine in [*FIRST, *(m for m in room.book.machines if m not in FIRST)]:
        book = for_class(room.book, machine)
        if left & set(book.checks):
            left -= telling(Worlds(book, Conditions(), 0, VARIANTS), left)
    assert left == set()
