"""The shelf of populations: one for each class, conditions bucket and size, built once and shared by all jobs."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning import kept
from firstpull.reasoning.worlds import Worlds

VARIANTS = {1: 256, 2: 256, 3: 512, 4: 1024}
ALTITUDE_STEP_M = 250.0
AIR_STEP_C = 5.0
SHELF_VARIABLE = "FIRSTPULL_CACHE"
MOST_KEPT = 6  # populations in memory at once
GROWN = 1.2  # times as many predictions as were kept last


@dataclass(eq=False)
class WorldRoom:
    """A handbook and the populations made from it."""

    book: Book
    seed: int = 0
    shelf: Path | None = None  # where predictions are kept from one day to the next
    _kept: dict[tuple[str, Conditions, int], Worlds] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)
    _saved: dict[tuple[str, Conditions, int], int] = field(default_factory=dict)

    def worlds(self, machine: str, conditions: Conditions, effort: int = 2) -> Worlds:
        """The population of a class on such a day; days in one bucket share theirs."""
        bucket = bucketed(conditions)
        count = VARIANTS[min(max(effort, 1), max(VARIANTS))]
        key = (machine, bucket, count)
        with self._lock:
            if key not in self._kept:
                worlds = Worlds(for_class(self.book, machine), bucket, self.seed, count)
                if self.shelf is not None and kept.load(self.shelf, worlds):
                    self._saved[key] = worlds.size
                self._kept[key] = worlds
                while len(self._kept) > MOST_KEPT:
                    del self._kept[next(iter(self._kept))]
            self._kept[key] = self._kept.pop(key)  # used last, forgotten last
            return self._kept[key]

    def forget_rare(self) -> None:
        """Let go, in every population, of the machines that few jobs ask for."""
        with self._lock:
            for worlds in self._kept.values():
                worlds.forget_rare()

    def forget_oldest(self) -> None:
        """Let go of the population that was not used for longest, unless it is the only one."""
        with self._lock:
            if len(self._kept) > 1:
                del self._kept[next(iter(self._kept))]

    def keep(self) -> None:
        """Write down predictions that are new since the last time, where they have grown enough to be worth it."""
        if self.shelf is None:
            return
        with self._lock:
            for key, worlds in self._kept.items():
                known = self._saved.get(key, 0)
                if worlds.size > known * GROWN:
                    kept.save(self.shelf, worlds)
                    self._saved[key] = worlds.size


def bucketed(conditions: Conditions) -> Conditions:
    """The middle of the bucket a day falls into: 250 m and 5 K wide."""
    altitude = round(conditions.altitude_m / ALTITUDE_STEP_M) * ALTITUDE_STEP_M
    air = round(conditions.air_c / AIR_STEP_C) * AIR_STEP_C
    return Conditions(altitude, air)


def shelf_folder() -> Path:
    """Where predictions are kept: as the environment says, or among the caches of the user."""
    named = os.environ.get(SHELF_VARIABLE)
    if named:
        return Path(named)
    caches = os.environ.get("XDG_CACHE_HOME")
    return (Path(caches) if caches else Path.home() / ".cache") / "firstpull"


def open_room(extra: Path | None = None, seed: int = 0, shelf: Path | None = None) -> WorldRoom:
    """The room with the shipped handbook and, when there is one, a folder of the workshop's own chapters.

    With a `shelf`, predictions are taken from there and written there when `keep` is called.

    Raises:
        ManyErrors: everything that is wrong with the chapters.
    """
    own = sorted(extra.glob("*.toml")) if extra is not None and extra.is_dir() else []
    return WorldRoom(load(extra=own), seed, shelf)
