"""The shelf of populations: one for each class, conditions bucket and size, built once and shared by all jobs."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning.worlds import Worlds

VARIANTS = {1: 256, 2: 256, 3: 512, 4: 1024}
ALTITUDE_STEP_M = 250.0
AIR_STEP_C = 5.0


@dataclass(eq=False)
class WorldRoom:
    """A handbook and the populations made from it."""

    book: Book
    seed: int = 0
    _kept: dict[tuple[str, Conditions, int], Worlds] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def worlds(self, machine: str, conditions: Conditions, effort: int = 2) -> Worlds:
        """The population of a class on such a day; days in one bucket share theirs."""
        bucket = bucketed(conditions)
        count = VARIANTS[min(max(effort, 1), max(VARIANTS))]
        key = (machine, bucket, count)
        with self._lock:
            if key not in self._kept:
                self._kept[key] = Worlds(for_class(self.book, machine), bucket, self.seed, count)
            return self._kept[key]


def bucketed(conditions: Conditions) -> Conditions:
    """The middle of the bucket a day falls into: 250 m and 5 K wide."""
    altitude = round(conditions.altitude_m / ALTITUDE_STEP_M) * ALTITUDE_STEP_M
    air = round(conditions.air_c / AIR_STEP_C) * AIR_STEP_C
    return Conditions(altitude, air)


def open_room(extra: Path | None = None, seed: int = 0) -> WorldRoom:
    """The room with the shipped handbook and, when there is one, a folder of the workshop's own chapters.

    Raises:
        ManyErrors: everything that is wrong with the chapters.
    """
    own = sorted(extra.glob("*.toml")) if extra is not None and extra.is_dir() else []
    return WorldRoom(load(extra=own), seed)
