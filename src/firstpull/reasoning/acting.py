"""Which faults of a state act: those that need heat only on a hot machine, intermittent ones only now and then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import prod

from firstpull.handbook.entries import Fault

Faults = frozenset[str]


@dataclass(frozen=True, eq=False)
class Acting:
    """What acts in each state of one class, worked out once a state."""

    faults: Mapping[str, Fault]
    _active: dict[tuple[Faults, bool], Faults] = field(default_factory=dict)
    _steady: dict[tuple[Faults, bool], Faults] = field(default_factory=dict)
    _duty: dict[Faults, float] = field(default_factory=dict)

    def active(self, state: Faults, hot: bool) -> Faults:
        """The faults that act while an intermittent one shows."""
        found = self._active.get((state, hot))
        if found is None:
            found = frozenset(f for f in state if hot or self.faults[f].hot_above_c is None)
            self._active[state, hot] = found
        return found

    def steady(self, state: Faults, hot: bool) -> Faults:
        """The faults that act while an intermittent one sleeps."""
        found = self._steady.get((state, hot))
        if found is None:
            found = frozenset(f for f in self.active(state, hot) if self.faults[f].duty >= 1.0)
            self._steady[state, hot] = found
        return found

    def duty(self, state: Faults) -> float:
        """Share of tries in which the intermittent faults of a state show."""
        found = self._duty.get(state)
        if found is None:
            found = self._duty[state] = float(prod(self.faults[f].duty for f in sorted(state)))
        return found
