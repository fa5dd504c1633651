"""One whole machine: every observable that the class's checks can read, in every arrangement they are read in.

The list is generated from the handbook and printed by `python -m benchmarks.machine`. Speed checks (rpm, hunting) are
timed apart, since they need the governing simulation.
"""

from __future__ import annotations

import time
from typing import Any

from firstpull.bench.worldroom import open_room
from firstpull.engine.machine import Machine
from firstpull.engine.predict import shown
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.weigh import columns
from firstpull.reasoning.worlds import Question, Row, Worlds

MACHINE = "walk-mower-ohv"
GOVERNING = ("idle_rpm", "top_rpm", "loaded_rpm", "droop_percent", "hunting_swing_rpm", "hunting_hz")


def readings(book: ClassBook, worlds: Worlds) -> dict[Question, set[str]]:
    """Every question (arrangement as far as it matters, set-up of the instrument) and what is read in it."""
    found: dict[Question, set[str]] = {}
    for check in book.checks.values():
        for option in check_options(book, check):
            for column in columns(book, check, arrangement_of(book, option)):
                if column.quantity in OBSERVABLES:
                    place = worlds.matters(column.quantity, column.question.arrangement)
                    found.setdefault(Question(place, column.question.setup), set()).add(column.quantity)
    return found


def timed(count: int, governing: bool) -> tuple[float, int, int]:
    """Seconds for all readings of `count` machines on one core, how many questions, how many readings."""
    book = open_room().worlds(MACHINE, Conditions()).book
    worlds = Worlds(book, Conditions(), count=count)
    asked = {q: {n for n in names if governing or n not in GOVERNING} for q, names in readings(book, worlds).items()}
    asked = {q: names for q, names in asked.items() if names}
    wanted = sorted({p for q, names in asked.items() for n in names for p in worlds.needs(n, q.arrangement)})
    params = {p: worlds.parameter(p, Row(frozenset())) for p in wanted}
    began = time.process_time()
    machines = Machine(params, book.sizes, Conditions(), Arrangement(), Setup(), count)
    for question, names in asked.items():
        machine = machines.rearranged(question.arrangement, Setup(dict(question.setup)))
        for name in names:
            shown(machine, name)
    return time.process_time() - began, len(asked), sum(map(len, asked.values()))


def rows(quick: bool) -> list[dict[str, Any]]:
    """Machines a second and core, without governing and with it."""
    count = 4_000 if quick else 16_000
    found = []
    for governing, goal in ((False, 80_000.0), (True, 50_000.0)):
        seconds, questions, total = timed(count, governing)
        rate = count / seconds
        words = "with governing" if governing else "without governing"
        found.append({
            "name": f"whole machines {words}: {total} readings in {questions} arrangements", "value": rate,
            "unit": "machines/s", "better": "higher", "goal": goal, "met": bool(rate >= goal),
            "anchor": None, "anchor_value": None, "ratio": None,
        })
    return found


def main() -> None:
    """Print the generated list."""
    book = open_room().worlds(MACHINE, Conditions()).book
    worlds = Worlds(book, Conditions(), count=8)
    for question, names in sorted(readings(book, worlds).items(), key=lambda item: repr(item[0])):
        place = question.arrangement
        stands = ", ".join([*(f"{t} off" for t in sorted(place.off)), *sorted(place.added)]) or "as it stands"
        warm = f"{place.drive}, {place.thermal}, choke {place.choke}, load {place.load}"
        print(f"{warm}; {stands}: {', '.join(sorted(names))}")


if __name__ == "__main__":
    main()
