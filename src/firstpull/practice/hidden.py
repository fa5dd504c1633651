"""A virtual machine with a fault that only it knows: it gives readings, takes repairs, and says whether it is cured."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from firstpull.base import draws
from firstpull.engine import constants
from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Repair
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN, ComplaintAct, Read, ReadingAct
from firstpull.reasoning.weigh import Column, Scales
from firstpull.reasoning.worlds import SHARED, Row, Worlds


@dataclass(eq=False)
class HiddenMachine:
    """One machine drawn apart from any population that reasons about it.

    `worlds` must hold one variant and a seed of its own; `blunders` multiplies how often a hand or gauge slips. Luck
    belongs to what it decides: the second reading of a check, or the first try of a repair, turns out the same whatever
    was done in between, so that ways of working can be compared on the same machine.
    """

    worlds: Worlds
    faults: frozenset[str]
    seed: int
    blunders: float = 1.0
    renewed: dict[str, int] = field(default_factory=dict)
    shifted: dict[str, float] = field(default_factory=dict)
    _coins: dict[tuple[str, ...], int] = field(default_factory=dict)
    _awake: tuple[int, frozenset[str]] | None = None

    def __post_init__(self) -> None:
        self.scales = Scales(self.worlds)

    def under(self, factors: dict[str, float]) -> HiddenMachine:
        """The same machine in a world whose guessed constants are other than anybody believes."""
        return HiddenMachine(self.worlds, self.faults, self.seed, self.blunders, dict(self.renewed), dict(factors))

    def _coin(self, *decides: str) -> float:
        """The next coin for one thing that luck decides."""
        self._coins[decides] = self._coins.get(decides, 0) + 1
        return float(draws.uniform((self.seed, "hidden", *decides, self._coins[decides]), 1)[0])

    def _row(self, arrangement: Arrangement, episode: int) -> Row:
        """What acts now: faults that only show hot sleep when cold, intermittent ones toss a coin an episode."""
        known = self.worlds.book.faults
        hot = arrangement.thermal == "hot"
        if self._awake is None or self._awake[0] != episode:
            awake = frozenset(f for f in sorted(self.faults) if self._coin("shows", f) < known[f].duty)
            self._awake = (episode, awake)
        active = self._awake[1] & self.faults
        active = frozenset(f for f in active if hot or known[f].hot_above_c is None)
        return Row(active, frozenset(self.renewed.items()))

    def read(self, check: str, arrangement: Arrangement, episode: int) -> ReadingAct:
        """Do a check in an arrangement."""
        with constants.shifted(self.shifted):
            return self._read(check, arrangement, episode)

    def _read(self, check: str, arrangement: Arrangement, episode: int) -> ReadingAct:
        columns = self.scales.columns(check, arrangement)
        row = self._row(arrangement, episode)
        reads: list[Read] = []
        for key in dict.fromkeys(c.key for c in columns):
            part = [c for c in columns if c.key == key]
            read = self._places(check, part, row) if part[0].edge is not None else self._one(check, part[0], row)
            if read.word == NOT_POSSIBLE:
                return ReadingAct(check, (read,), arrangement, episode=episode)
            reads.append(read)
        return ReadingAct(check, tuple(reads), arrangement, episode=episode)

    def _one(self, check: str, column: Column, row: Row) -> Read:
        key = column.key or ""
        chance = self.scales.chances(column, [row])[0][0]
        words = [*column.ear.words, NOW_AND_THEN, NOT_POSSIBLE]
        said = words[int(np.searchsorted(np.cumsum(chance / chance.sum()), self._coin("reads", check, key)))]
        if self.blunders > 1 and self._coin("slips", check, key) < (self.blunders - 1) * column.ear.blunder:
            said = column.ear.words[int(self._coin("slip", check, key) * len(column.ear.words))]
        return Read(column.key, word=said)

    def _places(self, check: str, part: list[Column], row: Row) -> Read:
        heard = [c.word for c in part
                 if self._coin("reads", check, c.word) < float(self.scales.chances(c, [row])[0][0, 0])]
        return Read(part[0].key, places=tuple(heard))

    def still(self, complaint: str, episode: int) -> bool:
        """Whether the complaint still holds when it is tried."""
        row = self._row(Arrangement(thermal=self.worlds.book.complaints[complaint].thermal), episode)
        act = ComplaintAct(complaint, True, episode)
        with constants.shifted(self.shifted):
            chance = float(self.scales.complaint(act, [(row, SHARED)], True)[0][0])
        return self._coin("holds", complaint) < chance

    def complains(self, complaint: str) -> float:
        """How likely its owner says this."""
        row = Row(self.faults, frozenset(self.renewed.items()))
        with constants.shifted(self.shifted):
            return float(self.scales.complaint(ComplaintAct(complaint), [(row, SHARED)], False)[0][0])

    def repair(self, repair: Repair) -> None:
        """Do a repair; it may not take."""
        if self.faults & repair.ends and self._coin("takes", repair.id) < repair.takes:
            self.faults = self.faults - repair.ends
        for parameter in repair.renews:
            self.renewed[parameter] = self.renewed.get(parameter, 0) + 1
        self._awake = None

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with it any more."""
        return not self.faults
