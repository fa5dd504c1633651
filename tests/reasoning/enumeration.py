"""What is wrong, by adding up every history that could have been; shares no code with the belief.

For machines whose variants are all alike. A history is a state, a coin for each repair of a fault that is there (it
took, or not) and a coin for each episode (the intermittent fault shows in all of it, or sleeps through it).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

Faults = frozenset[str]


@dataclass(frozen=True)
class Told:
    """Chance of the answer by the faults the machine came in with."""

    chance: Callable[[Faults], float]


@dataclass(frozen=True)
class Seen:
    """Chance of a reading by the faults that act at that moment; `mood` is what the hand said of the machine."""

    chance: Callable[[Faults], float]
    episode: int
    hot: bool = False
    mood: str = "unknown"
    sleeps: bool = True


@dataclass(frozen=True)
class Mended:
    """A repair: what it cures and how surely."""

    cures: Faults
    takes: float


Happened = Told | Seen | Mended


@dataclass(frozen=True)
class Nature:
    """States with their odds, shares of tries in which faults show, and faults that show only when hot."""

    odds: Mapping[Faults, float]
    duty: Mapping[str, float] = field(default_factory=dict)
    hot_only: Faults = frozenset()


def posterior(nature: Nature, happened: Sequence[Happened]) -> dict[tuple[Faults, Faults], float]:
    """Probability of each pair of what was wrong and what is left of it."""
    repairs = [h for h in happened if isinstance(h, Mended)]
    stretches = sorted({(sum(isinstance(b, Mended) for b in happened[:i]), h.episode)
                        for i, h in enumerate(happened) if isinstance(h, Seen)})
    found: dict[tuple[Faults, Faults], float] = {}
    for state, odds in nature.odds.items():
        restless = [f for f in state if nature.duty.get(f, 1.0) < 1.0]
        assert len(restless) <= 1
        duty = nature.duty[restless[0]] if restless else 1.0
        for takes in product((True, False), repeat=len(repairs)):
            for shows in product((True, False), repeat=len(stretches)):
                weight, left = _one(nature, happened, state, takes, dict(zip(stretches, shows, strict=True)), duty)
                key = (state, left)
                found[key] = found.get(key, 0.0) + odds * weight
    total = math.fsum(found.values())
    return {key: weight / total for key, weight in found.items() if weight > 0}


def _one(
    nature: Nature, happened: Sequence[Happened], state: Faults, takes: tuple[bool, ...],
    shows: Mapping[tuple[int, int], bool], duty: float,
) -> tuple[float, Faults]:
    """Chance of one history and what is left at its end."""
    left, weight, done = state, 1.0, 0
    for coin in shows.values():
        weight *= duty if coin else 1 - duty
    for h in happened:
        if isinstance(h, Told):
            weight *= h.chance(state)
        elif isinstance(h, Mended):
            there = bool(left & h.cures)
            weight *= (h.takes if takes[done] else 1 - h.takes) if there else float(takes[done])
            left = left - h.cures if there and takes[done] else left
            done += 1
        else:
            coin = {"failing": True, "fine": False}.get(h.mood, shows[done, h.episode])
            awake = frozenset(f for f in left if coin or not h.sleeps or nature.duty.get(f, 1.0) >= 1.0)
            weight *= h.chance(frozenset(f for f in awake if h.hot or f not in nature.hot_only))
    return weight, left
