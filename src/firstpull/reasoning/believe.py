"""The belief: what is wrong with this machine, after everything that happened to it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from firstpull.reasoning.acts import Act, ComplaintAct, ReadingAct, RepairAct
from firstpull.reasoning.belief import Faults, Fold, Thread, fold, fold_each, settled
from firstpull.reasoning.prior import SECOND_FAULT, first_states, pairs_of
from firstpull.reasoning.regenerate import regenerate
from firstpull.reasoning.weigh import Scales

FloatArray = NDArray[np.float64]

MISFIT = float(np.log(0.08))  # a reading less probable than this opens pairs: judgement
PAIR_SUSPECTS = 10  # pairs are opened among so many
PAIR_BESTS = 5
FIRST_SUSPECTS = 5  # and for the first answer among so many
FIRST_BESTS = 2


@dataclass(frozen=True, eq=False)
class Belief:
    """Threads with their probabilities, and what is outside them.

    `walk` holds the threads with regenerated variants where that was needed, `coarse` the same threads on the shared
    variants: good enough to plan with.
    """

    scales: Scales
    acts: tuple[Act, ...]
    walk: Fold
    coarse: Fold
    unopened: float

    @property
    def threads(self) -> list[Thread]:
        """All threads; their probabilities are in `probability`, in the same order."""
        return self.walk.threads

    @cached_property
    def _log(self) -> FloatArray:
        return np.array([*self.walk.weights(), self.walk.outside])

    @cached_property
    def _share(self) -> FloatArray:
        raised = np.exp(self._log - self._log.max())
        return np.asarray(raised / raised.sum())

    @property
    def probability(self) -> FloatArray:
        """Probability of each thread [1], shape (threads,)."""
        return self._share[:-1]

    @property
    def outside(self) -> float:
        """Probability that the handbook does not know what is wrong."""
        return float(self._share[-1])

    @cached_property
    def suspects(self) -> list[tuple[Faults, float]]:
        """What is wrong with the machine now, best first; no faults means nothing is wrong (any more)."""
        found: dict[Faults, float] = {}
        for thread, share in zip(self.threads, self.probability, strict=True):
            found[thread.current] = found.get(thread.current, 0.0) + float(share)
        return sorted(found.items(), key=lambda item: -item[1])

    @cached_property
    def sound(self) -> float:
        """Probability that nothing is wrong now [1]."""
        return next((p for faults, p in self.suspects if not faults), 0.0)

    @cached_property
    def fault_probability(self) -> dict[str, float]:
        """Probability that each fault is present now."""
        return self._marginal(now=True)

    @cached_property
    def cause_probability(self) -> dict[str, float]:
        """Probability that each fault was present when the machine came in."""
        return self._marginal(now=False)

    def _marginal(self, now: bool) -> dict[str, float]:
        found = dict.fromkeys(self.walk.book.rates, 0.0)
        for thread, share in zip(self.threads, self.probability, strict=True):
            for fault in thread.current if now else thread.original:
                found[fault] += float(share)
        return found

    @cached_property
    def repair_probability(self) -> dict[str, float]:
        """Probability that each repair cures something that is present now."""
        found: dict[str, float] = {}
        for repair in self.walk.book.repairs.values():
            cured = repair.ends
            hit = [bool(t.current & cured) for t in self.threads]
            found[repair.id] = float(self.probability[hit].sum())
        return found

    @cached_property
    def least_effective(self) -> float:
        """Smallest effective number of variants among threads that matter."""
        sizes = [effective(settled(t, self.walk.duty(t)))
                 for t, p in zip(self.threads, self.probability, strict=True) if p > 0.01]
        return min(sizes, default=float(self.scales.worlds.count))


def effective(weights: FloatArray) -> float:
    """Effective number of variants behind weights.

    Args:
        weights: natural logarithms of weights [1], shape (N,).

    Returns:
        Number between 1 and N [1], scalar.

    Valid: finite weights.
    Source: Kong, Liu, Wong, J. Am. Stat. Assoc. 89 (1994) 278-288.

    """
    raised = np.exp(weights - weights.max())
    return float(raised.sum() ** 2 / np.square(raised).sum())


def on_we_go() -> None:
    """Nothing speaks against going on."""


def believe(
    scales: Scales, acts: Sequence[Act], settle: bool = True, between: Callable[[], None] = on_we_go
) -> Belief:
    """Fold all acts from the beginning.

    The same population, acts and settings give the same belief, whatever was asked in between. With `settle`, live
    states that too few variants carry are regenerated; without, the first answer is given at once, on fewer pairs.
    `between` is called between pieces of the work; what it raises ends it, and harms nothing.
    """
    states = first_states(scales.worlds.book)
    walk = fold(scales, states, acts)
    pairs = _credible_pairs(walk, acts, states, settle)
    between()
    if pairs:
        walk = _joined(walk, fold_each(scales, pairs, acts))
    belief = Belief(scales, tuple(acts), walk, walk, _unopened(walk))
    if not settle:
        return belief
    odds = dict(states + pairs)
    blocks = regenerate(scales, acts, belief.threads, odds, between)
    if not blocks:
        return belief
    fresh = fold(scales, [(faults, odds[faults]) for faults in blocks], acts, blocks, watched=False)
    return replace(belief, walk=_replaced(walk, fresh))


def _joined(walk: Fold, more: Fold) -> Fold:
    """One walk with the threads of both; what lies outside the handbook is counted against the first."""
    found = walk.copy()
    found.threads += more.threads
    return found


def _replaced(walk: Fold, fresh: Fold) -> Fold:
    """The walk with the threads of regenerated states in place of the old ones, in the same order."""
    new = {(t.original, i): t for i, t in _numbered(fresh)}
    found = walk.copy()
    found.threads = [new.get((t.original, i), t) for i, t in _numbered(walk)]
    return found


def _numbered(walk: Fold) -> list[tuple[int, Thread]]:
    """Threads with their place among those of the same original state: repairs split both walks alike."""
    seen: dict[Faults, int] = {}
    found = []
    for thread in walk.threads:
        seen[thread.original] = seen.get(thread.original, -1) + 1
        found.append((seen[thread.original], thread))
    return found


def _credible_pairs(
    walk: Fold, acts: Sequence[Act], states: list[tuple[Faults, float]], settle: bool
) -> list[tuple[Faults, float]]:
    """Pairs that a reading which fits badly, or a repair that did not help, makes credible."""
    odd = [s.act for s in walk.steps if s.log_chance < MISFIT and isinstance(s.act, (ReadingAct, ComplaintAct))]
    tried = any(isinstance(a, RepairAct) for a in acts)
    if not odd and not tried:
        return []
    singles: dict[str, float] = {}
    for thread, weight in zip(walk.threads, walk.weights(), strict=True):
        if len(thread.original) == 1:
            fault = next(iter(thread.original))
            singles[fault] = max(singles.get(fault, -np.inf), float(weight))
    best = sorted(singles, key=lambda f: -singles[f])[: PAIR_SUSPECTS if settle else FIRST_SUSPECTS]
    for act in odd:
        best += _explainers(walk, act, PAIR_BESTS if settle else FIRST_BESTS)
    known = {faults for faults, _ in states}
    return pairs_of(walk.book, list(dict.fromkeys(best)), known)


def _explainers(walk: Fold, act: Act, most: int) -> list[str]:
    """The faults that alone make this act most probable, weighed by how often they are met."""
    singles = [(f, odds) for f, odds in first_states(walk.book) if len(f) == 1]
    alone = fold(walk.scales, singles, [act], watched=False)
    found = {next(iter(t.original)): w for t, w in zip(alone.threads, alone.weights(), strict=True)}
    return sorted(found, key=lambda f: -found[f])[:most]


def _unopened(walk: Fold) -> float:
    """Upper bound on the probability of pairs that were not opened.

    A pair is at most as probable as its odds times the best that any single state makes of all acts.
    """
    odds = [float(np.exp(o)) for f, o in first_states(walk.book) if len(f) == 1]
    all_pairs = 0.5 * (sum(odds) ** 2 - sum(o * o for o in odds)) * SECOND_FAULT
    best = float((walk.weights() - [t.log_prior for t in walk.threads]).max())
    share = np.exp(np.log(max(all_pairs, 1e-12)) + best - np.logaddexp(walk.total(), walk.outside))
    return float(min(1.0, share / (1.0 + share)))
