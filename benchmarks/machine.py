"""One whole machine: every observable that the class's checks can read, in every arrangement they are read in.

The list is generated from the handbook and printed by `python -m benchmarks.machine`. Speed checks (rpm, hunting) are
timed apart, since they need the governing simulation.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

from firstpull.bench.worldroom import VARIANTS, open_room
from firstpull.engine.machine import Machine
from firstpull.engine.predict import shown
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.weigh import columns
from firstpull.reasoning.worlds import SHARED, Ask, Question, Row, Worlds

ROOT = Path(__file__).resolve().parent.parent
MACHINE = "walk-mower-ohv"
GOES = 3
GOVERNING = ("idle_rpm", "top_rpm", "loaded_rpm", "droop_percent", "hunting_swing_rpm", "hunting_hz")


def readings(book: ClassBook, worlds: Worlds) -> dict[Question, set[str]]:
    """Every question (arrangement as far as it matters, set-up of the instrument) and what is read in it."""
    found: dict[Question, set[str]] = {}
    for check in book.checks.values():
        for option in check_options(book, check):
            for column in columns(book, check, arrangement_of(book, option)):
                if column.quantity in OBSERVABLES:
                    place = worlds.touch(column.quantity, column.question.arrangement).place
                    found.setdefault(Question(place, column.question.setup), set()).add(column.quantity)
    return found


def timed(count: int, governing: bool) -> tuple[float, int, int]:
    """Seconds for all readings of `count` machines on one core, how many questions, how many readings.

    The fastest of some goes; each begins anew, and what arrangements have in common is worked out once in it.
    """
    book = open_room().worlds(MACHINE, Conditions()).book
    worlds = Worlds(book, Conditions(), count=count)
    asked = {q: {n for n in names if governing or n not in GOVERNING} for q, names in readings(book, worlds).items()}
    asked = {q: names for q, names in asked.items() if names}
    wanted = sorted({p for q, names in asked.items() for n in names for p in worlds.touch(n, q.arrangement).parameters})
    params = {p: worlds.parameter(p, Row(frozenset())) for p in wanted}
    took = []
    for _ in range(GOES):
        began = time.process_time()
        machines = Machine(params, book.sizes, Conditions(), Arrangement(), Setup(), count)
        for question, names in asked.items():
            machine = machines.rearranged(question.arrangement, Setup(dict(question.setup)))
            for name in names:
                shown(machine, name)
        took.append(time.process_time() - began)
    return min(took), len(asked), sum(map(len, asked.values()))


def population(count: int) -> tuple[float, float]:
    """Megabytes of predictions of a class, healthy and under every single fault, and of the process that made them."""
    book = open_room().worlds(MACHINE, Conditions()).book
    worlds = Worlds(book, Conditions(), count=count)
    states = [(Row(frozenset()), SHARED), *((Row(frozenset({fault})), SHARED) for fault in book.faults)]
    for question, names in readings(book, worlds).items():
        worlds.prepare([Ask(question, sorted(names), states)])
    kept = sum(values.nbytes for rows in worlds.predicted.values() for values in rows.values())
    return kept / 1e6, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def _alone(count: int) -> tuple[float, float]:
    """The same in a process of its own."""
    asked = [sys.executable, "-m", "benchmarks.machine", "--population", str(count)]
    said = subprocess.run(asked, check=True, capture_output=True, text=True, cwd=ROOT).stdout.split()
    return float(said[0]), float(said[1])


def _memory() -> list[dict[str, Any]]:
    """What a full population takes."""
    most = max(VARIANTS.values())
    kept, process = _alone(most)
    words = f"population of {MACHINE}, healthy and all single faults, {most:,} variants a state"
    return [
        {"name": f"{words}: {what}", "value": value, "unit": "MB", "better": "lower", "goal": 400.0,
         "met": bool(value <= 400.0), "anchor": None, "anchor_value": None, "ratio": None}
        for what, value in (("predictions kept", kept), ("whole process at its largest", process))
    ]  # fmt: skip


def rows(quick: bool) -> list[dict[str, Any]]:
    """Machines a second and core, without governing and with it; memory of a population."""
    del quick  # takes a second either way
    count = 16_000
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
    return found + _memory()


def main() -> None:
    """Print the generated list, or with `--population N` the megabytes of a population of N variants a state."""
    if "--population" in sys.argv:
        print(*population(int(sys.argv[-1])))
        return
    book = open_room().worlds(MACHINE, Conditions()).book
    worlds = Worlds(book, Conditions(), count=8)
    for question, names in sorted(readings(book, worlds).items(), key=lambda item: repr(item[0])):
        place = question.arrangement
        stands = ", ".join([*(f"{t} off" for t in sorted(place.off)), *sorted(place.added)]) or "as it stands"
        warm = f"{place.drive}, {place.thermal}, choke {place.choke}, load {place.load}"
        print(f"{warm}; {stands}: {', '.join(sorted(names))}")


if __name__ == "__main__":
    main()
