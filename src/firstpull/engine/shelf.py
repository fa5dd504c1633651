"""What was worked out for some machines in one arrangement and holds in every other that agrees in what was asked.

While a rule runs, everything it asks about the arrangement and the instrument is noted, and which quantities it went
through. In another arrangement with the same answers the rule would do the same, so its value is taken over as it is.
What a rule asks of the same machines rearranged counts as asked of the machines it runs for.
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
    """What a rule asked: how it is spun, warmed, choked and loaded, what is off and added, how the instrument is set.

    `through` holds the quantities that the rule went through.
    """

    stands: set[str] = field(default_factory=set)
    off: set[str] = field(default_factory=set)
    added: set[str] = field(default_factory=set)
    setup: set[str] = field(default_factory=set)
    through: set[str] = field(default_factory=set)

    def take(self, other: Trace) -> None:
        """What was asked on the way counts as asked here."""
        self.stands |= other.stands
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
            tuple([getattr(stand, name) for name in sorted(trace.stands)]),
            stand.off & trace.off,
            stand.added & trace.added,
            tuple([self.setup.values.get(name) for name in sorted(trace.setup)]) if trace.setup else (),
            tuple([(name, id(given[name])) for name in given if name in trace.through]) if given else (),
        )


@dataclass(slots=True)
class _Kept:
    trace: Trace
    values: dict[tuple[object, ...], tuple[FloatArray, Mapping[str, FloatArray]]]


@dataclass(slots=True)
class Room:
    """Values by rule and answers, of the same machines on the same day."""

    kept: dict[str, list[_Kept]] = field(default_factory=dict)

    def find(self, name: str, place: Place) -> tuple[FloatArray, Trace] | None:
        """The value that some place with the same answers has already got, and what was asked for it."""
        for one in self.kept.get(name, ()):
            found = one.values.get(place.answers(one.trace))
            if found is not None:
                return found[0], one.trace
        return None

    def keep(self, name: str, place: Place, trace: Trace, value: FloatArray) -> None:
        """Put a value on the shelf, with the given quantities that its name rests on."""
        before = self.kept.setdefault(name, [])
        for one in before:
            if one.trace == trace:
                break
        else:
            one = _Kept(trace, {})
            before.append(one)
        one.values[place.answers(trace)] = (value, place.given)


@dataclass(slots=True)
class Shelf:
    """Values by rule and by what the rule asked; the notes of the rules that are running."""

    rooms: dict[Base, Room] = field(default_factory=dict)
    running: list[Trace] = field(default_factory=list)
    held: dict[int, object] = field(default_factory=dict)
    handed: dict[str, list[FloatArray]] = field(default_factory=dict)

    def room(self, params: object, sizes: object, conditions: object, count: int) -> Room:
        """Where values of these machines stand."""
        things = (params, sizes, conditions)
        for thing in things:
            self.held[id(thing)] = thing  # a name that stays its own as long as the shelf stands
        return self.rooms.setdefault((*map(id, things), count), Room())

    def given(self, name: str, value: FloatArray) -> FloatArray:
        """One array for equal numbers given under this name, so that they are known to be the same."""
        before = self.handed.setdefault(name, [])
        for one in before:
            if one is value or np.array_equal(one, value):
                return one
        before.append(value)
        return value
