"""How hard each part of a machine is pencilled: suspicion summed over the faults that sit in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from firstpull.handbook.select import ClassBook
from firstpull.safety.state import MachineState

# Upper edges of the levels, in shares of one: plain, wide, close, crossed; above the last, solid. Judgement.
EDGES = (0.02, 0.10, 0.30, 0.70)
LEVEL_NAMES = ("under 2 in 100", "2 to 10", "10 to 30", "30 to 70", "over 70")


@dataclass(frozen=True, slots=True)
class PartMark:
    """One part as it is drawn: how hard it is pencilled, whether it is off, and whose balloons point to it."""

    part: str
    level: int
    off: bool
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A machine as it is drawn: its kind, its parts, and the same in one sentence."""

    kind: str
    marks: Mapping[str, PartMark]
    words: str

    def level(self, part: str) -> int:
        """How hard a part is pencilled; parts that nothing is suspected of are plain."""
        return self.marks[part].level if part in self.marks else 0

    def off(self, part: str) -> bool:
        """Whether a part is off the machine."""
        return part in self.marks and self.marks[part].off

    def has(self, part: str) -> bool:
        """Whether the class has such a part."""
        return part in self.marks


def level_of(share: float) -> int:
    """The level of a probability, 0 to 4."""
    return sum(share >= edge for edge in EDGES)


def part_shares(book: ClassBook, fault_probability: Mapping[str, float]) -> dict[str, float]:
    """Probability that something is wrong with each part, summed over its faults and never above one."""
    shares: dict[str, float] = {}
    for name, fault in book.faults.items():
        shares[fault.part] = shares.get(fault.part, 0.0) + fault_probability.get(name, 0.0)
    return {part: min(share, 1.0) for part, share in shares.items()}


def draw(
    book: ClassBook, state: MachineState, fault_probability: Mapping[str, float], numbered: Sequence[tuple[int, str]]
) -> Drawing:
    """The drawing of a machine as suspected; `numbered` are suspects' numbers, each with a fault."""
    shares = part_shares(book, fault_probability)
    off = {entry.part for i, entry in book.access.items() if i in state.away and not entry.added and entry.part}
    parts = {*shares, *off, *(e.part for e in book.access.values() if e.part)}
    marks = {
        part: PartMark(
            part, level_of(shares.get(part, 0.0)), part in off,
            tuple(dict.fromkeys(n for n, f in numbered if f in book.faults and book.faults[f].part == part)),
        )
        for part in sorted(parts)
    }
    worst = sorted((p for p in shares if shares[p] >= EDGES[0]), key=lambda p: -shares[p])[:2]
    named = " and ".join(part.replace("-", " ") for part in worst) or "no part"
    return Drawing(book.machine.drawing, marks, f"{book.machine.name}: {named} pencilled hardest.")
