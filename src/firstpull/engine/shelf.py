"""What was worked out for some machines in one arrangement and holds in every other that agrees in what was asked.

While a rule runs, everything it asks about the arrangement and the instrument is noted, and which quantities it went
through. In another arrangement with the same answers the rule would do the same, so its value is taken over as it is.
Drive, warmth, choke and load always count as asked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement, Setup

FloatArray = NDArray[np.float64]
Base = tuple[object, ...]


@dataclass(slots=True)
class Trace:
    """What a rule asked: things off, things added, set-up by name, and the quantities it went through."""

    off: set[str] = field(default_factory=set)
    added: set[str] = field(default_factory=set)
    setup: set[str] = field(default_factory=set)
    through: set[str] = field(default_factory=set)

    def take(self, other: Trace) -> None:
        """What was asked on the way counts as asked here."""
        self.off |= other.off
        self.added |= other.added
        self.setup |= other.setup
        self.through |= other.through


@dataclass(frozen=True, slots=True)
class Noted(Setup):
    """The set-up of an instrument that notes what a running rule asks of it."""

    running: list[Trace] = field(default_factory=list)

    def get(self, name: str, default: float) -> float:
        """The value of this name, or what stands when nothing was said."""
        if self.running:
            self.running[-1].setup.add(name)
        return Setup.get(self, name, default)


@dataclass(frozen=True, slots=True)
class Place:
    """Where machines stand: the arrangement, the instrument, and quantities that were given instead of worked out."""

    arrangement: Arrangement
    setup: Setup
    given: Mapping[str, FloatArray]

    def answers(self, trace: Trace) -> tuple[object, ...]:
        """How this place answers what was asked."""
        stand, given = self.arrangement, self.given
        return (
            stand.off & trace.off,
            stand.added & trace.added,
            tuple([self.setup.values.get(name) for name in sorted(trace.setup)]) if trace.setup else (),
            tuple([(name, id(given[name])) for name in given if name in trace.through]) if given else (),
        )


@dataclass(slots=True)
class _Kept:
    trace: Trace
    values: dict[tuple[object, ...], tuple[FloatArray, Mapping[str, FloatArray]]]


Room = dict[str, list[_Kept]]


@dataclass(slots=True)
class Shelf:
    """Values by rule and by what the rule asked; the notes of the rules that are running."""

    rooms: dict[Base, Room] = field(default_factory=dict)
    running: list[Trace] = field(default_factory=list)
    held: dict[int, object] = field(default_factory=dict)
    handed: dict[str, list[FloatArray]] = field(default_factory=dict)

    def room(self, things: tuple[object, ...], stands: tuple[object, ...]) -> Room:
        """Where values of these things stand, kept apart by how they are spun, warmed, choked and loaded."""
        for thing in things:
            self.held[id(thing)] = thing  # a name that stays its own as long as the shelf stands
        return self.rooms.setdefault((*map(id, things), *stands), {})

    def given(self, name: str, value: FloatArray) -> FloatArray:
        """One array for equal numbers given under this name, so that they are known to be the same."""
        before = self.handed.setdefault(name, [])
        for one in before:
            if one is value or np.array_equal(one, value):
                return one
        before.append(value)
        return value


def find(room: Room, name: str, place: Place) -> tuple[FloatArray, Trace] | None:
    """The value that some place with the same answers has already got, and what was asked for it."""
    for one in room.get(name, ()):
        found = one.values.get(place.answers(one.trace))
        if found is not None:
            return found[0], one.trace
    return None


def keep(room: Room, name: str, place: Place, trace: Trace, value: FloatArray) -> None:
    """Put a value on the shelf, with the given quantities that its name rests on."""
    shelf = room.setdefault(name, [])
    for one in shelf:
        if one.trace == trace:
            break
    else:
        one = _Kept(trace, {})
        shelf.append(one)
    one.values[place.answers(trace)] = (value, place.given)
