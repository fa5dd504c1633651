"""What each fault moves: the median shift of everything that some check reads, in units of its healthy spread.

`python -m benchmarks.fault_table` writes docs/physics/fault-by-observable.md from the handbook and the engine alone.
The same draws stand behind healthy and faulty machines, so whatever a fault does not act on does not move at all.
"""

from __future__ import annotations

import functools
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement, Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning.hearing import Ear
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.weigh import columns
from firstpull.reasoning.worlds import SHARED, Question, Row, Worlds

FloatArray = NDArray[np.float64]
PAGE = Path(__file__).resolve().parent.parent / "docs" / "physics" / "fault-by-observable.md"
COMMAND = "python -m benchmarks.fault_table"
MACHINES = 64
MOST = 99.0  # shifts beyond this many spreads are all the same to a reader
LEAST_LISTED = 0.5
ROWS_A_FAULT = 5
_HEALTHY = Row(frozenset())


@dataclass(frozen=True, slots=True)
class Shift:
    """How far one thing moves under one fault on one class, and in which arrangement it moves most.

    `spreads` is the move of the median; `silenced` the share of machines more than of healthy ones that cannot be read,
    because they would have to run or turn and do not.
    """

    fault: str
    machine: str
    quantity: str
    where: str
    spreads: float
    silenced: float

    @property
    def size(self) -> float:
        """What a reader would call the larger effect: two spreads weigh as much as one machine in three silenced."""
        return max(abs(self.spreads), 6.0 * self.silenced)


def words(place: Arrangement) -> str:
    """An arrangement in few words; what nearly always holds is left out."""
    told = [f"{token} off" for token in sorted(place.off)]
    told += [token for token in sorted(place.added) if token not in ("control-held", "outdoors", "wheels-chocked")]
    told += [place.drive] if place.drive != "none" else []
    told += [place.thermal] if place.thermal == "hot" else []
    told += [f"choke {place.choke}"] if place.choke != "open" else []
    told += [f"load {place.load}"] if place.load != "none" else []
    return ", ".join(told) or "still"


@functools.cache
def _asked(book: Book, machine: str, count: int) -> tuple[Worlds, dict[tuple[str, Question], Ear]]:
    """A class, and all that its checks read, each in every arrangement as far as it matters, and how it is heard."""
    mine = for_class(book, machine)
    worlds = Worlds(mine, Conditions(), count=count)
    found: dict[tuple[str, Question], Ear] = {}
    for check in mine.checks.values():
        for option in check_options(mine, check):
            for column in columns(mine, check, arrangement_of(mine, option)):
                place = worlds.touch(column.quantity, column.question.arrangement).place
                key = (column.quantity, Question(place, column.question.setup))
                before = found.get(key)
                if before is None or _noise(column.ear) < _noise(before):
                    found[key] = column.ear
    return worlds, found


def _noise(ear: Ear) -> float:
    return ear.absolute + ear.relative


def _spread(healthy: FloatArray, ear: Ear) -> float:
    """Half the width of the middle 68 % of healthy machines, together with the scatter of the check that reads it."""
    low, high = np.quantile(healthy, [0.16, 0.84])
    noise = ear.relative if ear.log else np.hypot(ear.absolute, ear.relative * float(np.median(healthy)))
    return max(float(np.hypot(0.5 * (high - low), noise)), 1e-9)


def _shift(healthy: FloatArray, faulty: FloatArray, ear: Ear) -> tuple[float, float]:
    silenced = float(np.isnan(faulty).mean() - np.isnan(healthy).mean())
    sound, sick = healthy[~np.isnan(healthy)], faulty[~np.isnan(faulty)]
    if not sound.size or not sick.size:
        return 0.0, silenced
    if ear.log:
        sound, sick = np.log(np.maximum(sound, 1e-9)), np.log(np.maximum(sick, 1e-9))
    moved = float(np.median(sick) - np.median(sound)) / _spread(sound, ear)
    return float(np.clip(moved, -MOST, MOST)), silenced


def shifts(book: Book, machine: str, faults: Collection[str] | None = None, count: int = MACHINES) -> list[Shift]:
    """For each fault of a class and each thing that checks read, the arrangement in which it moves most."""
    worlds, asked = _asked(book, machine, count)
    best: dict[tuple[str, str], Shift] = {}
    wanted = [f for f in worlds.book.faults if faults is None or f in faults]
    for (quantity, question), ear in asked.items():
        acting = [f for f in wanted if f in worlds.touch(quantity, question.arrangement).acting]
        rows = [_HEALTHY, *(Row(frozenset({f})) for f in acting)]
        healthy, *sick = worlds.values(question, quantity, [(row, SHARED) for row in rows]) if acting else [np.empty(0)]
        for fault, values in zip(acting, sick, strict=True):
            moved, silenced = _shift(healthy, values, ear)
            found = Shift(fault, machine, quantity, words(question.arrangement), moved, silenced)
            if (fault, quantity) not in best or found.size > best[fault, quantity].size:
                best[fault, quantity] = found
    return list(best.values())


def everywhere(book: Book, faults: Collection[str] | None = None) -> list[Shift]:
    """The shifts of all classes."""
    return [found for machine in book.machines for found in shifts(book, machine, faults)]


def models(book: Book) -> list[str]:
    """How many checks, complaints and told facts stand under each of the three observation models."""
    kinds = {name: {r.model for r in check.readings} for name, check in book.checks.items()}
    gauge = sum(found == {"gauge"} for found in kinds.values())
    eye = sum(found == {"eye-and-hand"} for found in kinds.values())
    both, total, ear = len(kinds) - gauge - eye, len(kinds), len(book.complaints) + len(book.told)
    return [
        "| observation model | what stands under it | number | share of the checks |", "|---|---|---|---|",
        f"| gauge | checks that read an instrument only | {gauge} | {gauge / total:.0%} |",
        f"| eye and hand | checks that look and feel only | {eye} | {eye / total:.0%} |",
        f"| both | checks with readings of both kinds | {both} | {both / total:.0%} |",
        f"| ear | complaints ({len(book.complaints)}) and told facts ({len(book.told)}) | {ear} | - |",
    ]  # fmt: skip


def _signed(value: float) -> str:
    return f"{value:+.1f}" if abs(value) < MOST else f"{'+' if value > 0 else '-'}99 or more"


def fault_rows(fault: str, found: Iterable[Shift]) -> list[str]:
    """The rows of one fault: what it moves most, over the classes that have it."""
    by_quantity: dict[str, list[Shift]] = {}
    for one in found:
        by_quantity.setdefault(one.quantity, []).append(one)
    ranked = sorted(by_quantity.items(), key=lambda item: (-max(s.size for s in item[1]), item[0]))
    rows = []
    for quantity, there in ranked[:ROWS_A_FAULT]:
        if max(s.size for s in there) < LEAST_LISTED:
            continue
        low, high = min(there, key=lambda s: s.spreads), max(there, key=lambda s: s.spreads)
        most = max(there, key=lambda s: s.size)
        rows.append(
            f"| {fault} | {quantity} | {most.where} | {_signed(median(s.spreads for s in there))} | "
            f"{_signed(low.spreads)} {low.machine} | {_signed(high.spreads)} {high.machine} | "
            f"{max(s.silenced for s in there):.0%} | {len(there)} |"
        )
    return rows


def page(book: Book, found: Sequence[Shift]) -> str:
    """The whole page."""
    by_fault: dict[str, list[Shift]] = {}
    for one in found:
        by_fault.setdefault(one.fault, []).append(one)
    lines = [
        "# Fault by observable", "",
        f"Generated by `{COMMAND}`, {MACHINES} machines a state, the same draws behind healthy and faulty ones.", "",
        "A shift is the move of the median over half the width of the middle 68 % of healthy machines as the check",
        "sees them, its own scatter included. Of all arrangements in which checks read a thing, the one that moves",
        "most. The middle, lowest and highest shift are over the classes that have the fault; *silenced* is the",
        "largest share of machines that cannot be read at all, because they would have to run or turn. At most",
        "five things a fault, none below half a spread.", "", "## Observation models", "", *models(book), "",
        "## Faults", "",
        "| fault | what is read | where it moves most | middle | lowest | highest | silenced | classes |",
        "|---|---|---|---|---|---|---|---|",
    ]  # fmt: skip
    for fault in book.faults:
        lines += fault_rows(fault, by_fault.get(fault, ()))
    return "\n".join(lines) + "\n"


@functools.cache
def handbook() -> Book:
    """The handbook, read once."""
    return load()


def main() -> None:
    """Write the page."""
    book = handbook()
    PAGE.write_text(page(book, everywhere(book)), encoding="utf-8")


if __name__ == "__main__":
    main()
