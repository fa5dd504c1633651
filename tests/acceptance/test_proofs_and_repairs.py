"""What a repair ends follows from what it makes new, and a proof is passed by a sound machine.

Common practice, no source: a part that is new has none of its old faults; a proof that sound machines fail proves
nothing.
"""

from __future__ import annotations

import pytest

from firstpull.bench.worldroom import open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.select import for_class
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Row, Worlds

ROOM = open_room()
LEAST = 0.85  # chance that a sound machine passes in one try; release proofs are tried three times


def test_what_renews_all_that_a_fault_moves_ends_it() -> None:
    left = set()
    for machine in ROOM.book.machines:
        book = for_class(ROOM.book, machine)
        for repair in book.repairs.values():
            for fault in book.faults.values():
                moved = {draw.parameter for draw in fault.draws}
                if moved and moved <= set(repair.renews) and fault.id not in repair.ends:
                    left.add((repair.id, fault.id))
    assert not left


@pytest.mark.parametrize("machine", sorted(ROOM.book.machines))
def test_every_proof_is_passed_by_a_sound_machine(machine: str) -> None:
    worlds = Worlds(for_class(ROOM.book, machine), Conditions(), 0, 64)
    scales, book = Scales(worlds), worlds.book
    wanted = {(r.proof.check, r.proof.outcomes): r.id for r in book.repairs.values() if r.proof.check in book.checks}
    low = {}
    for (name, outcomes), repair in wanted.items():
        option = next(iter(check_options(book, book.checks[name])))
        column = scales.columns(name, arrangement_of(book, option))[0]
        if column.edge is not None:
            continue  # several places at once: what must be seen nowhere
        chance = scales.chances(column, [Row(frozenset())])[0].mean(axis=0)
        passed = sum(float(chance[column.ear.words.index(word)]) for word in outcomes if word in column.ear.words)
        if passed < LEAST:
            low[repair, name] = round(passed, 3)
    assert not low
