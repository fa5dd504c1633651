"""What a job would cost if the state were known: the clairvoyant cost, and how uncertain a belief is.

For a known state the cheapest job is a short plan: repairs in some order, then the proof or an end. Checks tell
nothing then. A repair that takes with chance s is tried until it takes, cost / s on average; trying something else in
between never helps, because failing leaves the machine as it was and moving between access states obeys the triangle
inequality. What a fixed plan pays for an access item depends only on whether that item starts open, so a plan is one
constant and one pair of figures an item, and any number of access items costs no table over their combinations.
"""

from __future__ import annotations

import numpy as np

from firstpull.reasoning.planner.problem import Floats, Ints, Problem

MOST_PLANS = 48  # plans kept a state; more are melted into one that is too cheap, never too dear (judgement)


def entropy_bits(shares: Floats) -> Floats:
    """How uncertain distributions are; rows need not sum to one, a row is taken as it stands.

    Args:
        shares: probabilities along the last axis [1], shape (N, K).

    Returns:
        Minus the sum of x log2 x of each row [bit], shape (N,).

    Raises:
        Nothing.

    Valid:
        entries in 0..1.

    Source:
        C. E. Shannon, A Mathematical Theory of Communication, 1948.
    """
    found: Floats = -np.sum(shares * np.log2(np.maximum(shares, 1e-300)), axis=-1)
    return found


class KnownStateCost:
    """The clairvoyant cost F(state, access): never above what any policy pays on average from that state."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._items = len(problem.open_cost)
        self._rows: dict[int, Floats] = {}
        plans = self._plans_by_state()
        stacked = np.concatenate(plans)
        self._starts = np.cumsum([0, *[len(p) for p in plans[:-1]]])
        closed, opened = stacked[:, 1 : 1 + self._items], stacked[:, 1 + self._items :]
        self._constant = stacked[:, 0] + closed.sum(axis=1)
        self._per_open = (opened - closed).T.copy()

    def row(self, access: int) -> Floats:
        """F of every state from one access state, shape (S,)."""
        found = self._rows.get(access)
        return found if found is not None else self.rows([access])[0]

    def rows(self, accesses: list[int]) -> Floats:
        """F of every state from several access states, shape (N, S)."""
        missing = sorted({a for a in accesses if a not in self._rows})
        if missing:
            bits = (np.array(missing, dtype=np.int64)[:, None] >> np.arange(self._items)) & 1
            cost = self._constant + bits.astype(np.float64) @ self._per_open
            best = np.minimum.reduceat(cost, self._starts, axis=1)
            for access, row in zip(missing, best, strict=True):
                self._rows[access] = row
        return np.array([self._rows[a] for a in accesses])

    def _plans_by_state(self) -> list[Floats]:
        """Plans as rows [constant, cost of each item if closed, cost of each item if open], state by state."""
        p = self._problem
        changing: list[list[int]] = [[] for _ in p.prior]
        for r, s in zip(*np.nonzero(p.successor != np.arange(len(p.prior))), strict=True):
            if p.success[r] > 0.0:
                changing[int(s)].append(int(r))
        order, circular = _leaves_first(changing, p.successor)
        plans = [self._endings(s) for s in range(len(p.prior))]
        for _ in range(len(order) if circular else 1):
            changed = False
            for s in order:
                tried = [self._first(r, plans[int(p.successor[r, s])]) for r in changing[s]]
                found = self._undominated(np.concatenate([self._endings(s), *tried]))
                changed |= found.shape != plans[s].shape or not np.array_equal(found, plans[s])
                plans[s] = found
            if not changed:
                break
        return plans

    def _endings(self, s: int) -> Floats:
        p = self._problem
        found = [
            self._need(np.r_[price, np.zeros(2 * self._items)][None], 0, int(shut))[0]
            for price, shut in zip(p.end_cost[:, s], p.end_closed, strict=True)
        ]
        if p.proof_pass[s] > 0.0:
            price = p.proof_cost / p.proof_pass[s] + (float(p.comeback_cost[s]) if s != p.healthy else 0.0)
            proof = np.r_[price, np.zeros(2 * self._items)][None]
            found.append(self._need(proof, p.proof_open, p.proof_closed)[0])
        return np.array(found)

    def _first(self, r: int, rest: Floats) -> Floats:
        """The plans that do repair r until it takes and then one of `rest`."""
        p = self._problem
        plans = rest.copy()
        plans[:, 0] += p.repair_cost[r] / p.success[r]
        return self._need(plans, int(p.repair_open[r]), int(p.repair_closed[r]))

    def _need(self, plans: Floats, opened: int, shut: int) -> Floats:
        """Put an access demand before plans: what each item costs from closed and from open."""
        p, n = self._problem, self._items
        for a in range(n):
            if opened >> a & 1:
                plans[:, 1 + a] = p.open_cost[a] + plans[:, 1 + n + a]
            elif shut >> a & 1:
                plans[:, 1 + n + a] = p.close_cost[a] + plans[:, 1 + a]
        return plans

    def _undominated(self, plans: Floats) -> Floats:
        """Leave out plans that another one beats from every access state."""
        if len(plans) < 2:
            return plans
        n = self._items
        apart = plans[:, None, :] - plans[None, :, :]  # how much dearer row i is than row j
        worst = apart[..., 0] + np.maximum(apart[..., 1 : 1 + n], apart[..., 1 + n :]).sum(axis=-1)
        np.fill_diagonal(worst, 1.0)
        beats = worst <= 0.0
        beats &= ~(beats.T & (np.arange(len(plans))[:, None] > np.arange(len(plans))))
        plans = plans[~beats.any(axis=0)]
        if len(plans) > MOST_PLANS:
            plans = plans[np.argsort(plans.sum(axis=1), kind="stable")]
            plans = np.concatenate([plans[:MOST_PLANS], plans[MOST_PLANS:].min(axis=0)[None]])
        return plans


def _leaves_first(changing: list[list[int]], successor: Ints) -> tuple[list[int], bool]:
    """States so that what repairs leave of a state comes before it; and whether repairs can run in a circle."""
    order: list[int] = []
    mark = [0] * len(changing)  # 0 unseen, 1 on the way down, 2 done
    circular = False
    for start in range(len(changing)):
        stack = [(start, False)]
        while stack:
            s, back = stack.pop()
            if back:
                mark[s] = 2
                order.append(s)
            elif mark[s] == 0:
                mark[s] = 1
                stack.append((s, True))
                for r in changing[s]:
                    left = int(successor[r, s])
                    circular |= mark[left] == 1
                    if mark[left] == 0:
                        stack.append((left, False))
    return order, circular
