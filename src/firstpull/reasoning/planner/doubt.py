"""How doubt about the group changes when repairs move states: only what a repair touches is worked out again."""

from __future__ import annotations

import numpy as np

from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats, Ints


class RepairDoubt:
    """For every repair: what is still sick after it, and how its groups are spread."""

    def __init__(self, model: Model, group: Ints) -> None:
        self.model = model
        repair, state, to = model.moved_repair, model.moved_state, model.moved_to
        self.any = bool(len(repair))
        if not self.any:
            return
        self._repairs, self._starts = np.unique(repair, return_index=True)
        faulty = model.faulty.astype(np.float64)
        self._cured = faulty[state] - faulty[to]
        pair = np.arange(len(repair))
        entries = np.concatenate([np.stack([pair, repair, group[state]]), np.stack([pair, repair, group[to]])], axis=1)
        sign = np.r_[-np.ones(len(pair)), np.ones(len(pair))]
        sick = entries[2] > 0  # group 0 is healthy
        entries, sign = entries[:, sick], sign[sick]
        key = entries[1] * (int(group.max()) + 1) + entries[2]
        order = np.argsort(key, kind="stable")
        self._pair, self._sign = entries[0][order], sign[order]
        touched, self._pair_starts = np.unique(key[order], return_index=True)
        self._group = touched % (int(group.max()) + 1) - 1
        self._group_starts = np.unique(touched // (int(group.max()) + 1), return_index=True)[1]

    def after(self, beliefs: Floats, masses: Floats) -> tuple[Floats, Floats]:
        """Mass still sick, and mass times the entropy of its split over groups, after every repair, (N, R).

        Masses (N, K) are those of the sick groups before. A repair that moves nothing has infinite spread.
        """
        n, model = len(beliefs), self.model
        sick, spread = np.zeros((n, model.repairs)), np.full((n, model.repairs), np.inf)
        if not self.any:
            return sick, spread
        flow = beliefs[:, model.moved_state] * model.moved_share
        change = np.add.reduceat(flow[:, self._pair] * self._sign, self._pair_starts, axis=1)
        before = masses[:, self._group]
        moved = _terms(np.maximum(before + change, 0.0)) - _terms(before)
        total = _terms(masses).sum(axis=1)[:, None] + np.add.reduceat(moved, self._group_starts, axis=1)
        left = masses.sum(axis=1)[:, None] - np.add.reduceat(flow * self._cured, self._starts, axis=1)
        left = np.maximum(left, 0.0)
        useful = np.maximum.reduceat(flow, self._starts, axis=1) > 1e-12
        sick[:, self._repairs] = left
        spread[:, self._repairs] = np.where(useful, np.maximum(_terms(left) - total, 0.0), np.inf)
        return sick, spread


def _terms(mass: Floats) -> Floats:
    found: Floats = mass * np.log2(np.maximum(mass, 1e-300))
    return found
