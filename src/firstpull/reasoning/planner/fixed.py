"""Plans that do not look at readings: what they cost is a sum over states, so they bound the least cost from above."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from firstpull.reasoning.planner.model import IMPOSSIBLE, Model
from firstpull.reasoning.planner.problem import Floats

Tail = Callable[[int], Floats]  # what a plan still costs, state by state, from an access state


class FixedPlans:
    """For each access state a few plans; each row says what a plan costs in each state.

    The long plan does every repair in the order of chance over price, a proof after each, and then ends. Each repair
    may also come first, with a proof, before the long plan or before ending; or the proof comes first; or the end at
    once.
    """

    def __init__(self, model: Model) -> None:
        self.model = model
        p = model.problem
        cured = p.successor != np.arange(len(p.prior))
        chance = (cured @ p.prior) * p.success
        price = model.at(p.initially).cost[model.checks : model.proof] + p.proof_cost
        self.order = [int(r) for r in np.argsort(-chance / np.maximum(price, 1e-9), kind="stable") if cured[r].any()]
        self._cheapest_end = p.end_cost @ np.maximum(p.prior, 1e-12)
        self._tables: dict[int, Floats] = {}
        self._steps: dict[int, list[int]] = {}
        self._long: dict[int, Floats] = {}

    def high(self, belief: Floats, access: int) -> float:
        """The cost of the cheapest of the plans from this belief."""
        return float((self._rows(access) @ belief).min())

    def span(self, belief: Floats, access: int) -> float:
        """How far apart states lie in what that plan spends on them beyond their cost when known."""
        rows = self._rows(access)
        beyond = rows[int((rows @ belief).argmin())] - self.model.at(access).known
        there = beyond[belief > 0.0]
        return float(there.max() - there.min())

    def first(self, belief: Floats, access: int) -> int:
        """The first action of that plan that can tell or change anything."""
        model = self.model
        best = self._steps[access][int((self._rows(access) @ belief).argmin())]
        if best > model.proof or self._useful(best, belief):
            return best
        for r in self.order:
            if model.at(access).allowed[model.checks + r] and self._useful(model.checks + r, belief):
                return model.checks + r
        return (
            model.proof + 1 + int(np.argmin(model.at(access).cost[model.proof + 1 :] + model.problem.end_cost @ belief))
        )

    def _useful(self, action: int, belief: Floats) -> bool:
        model, p = self.model, self.model.problem
        if action == model.proof:
            return float(belief @ p.proof_pass) > IMPOSSIBLE
        repair = action - model.checks
        moved = p.successor[repair] != np.arange(len(belief))
        return float(belief @ moved) * float(p.success[repair]) > IMPOSSIBLE

    def _rows(self, access: int) -> Floats:
        found = self._tables.get(access)
        if found is None:
            found = self._tables[access] = self._build(access)
        return found

    def _build(self, access: int) -> Floats:
        model, p = self.model, self.model.problem
        here = model.at(access)
        ends = range(model.proof + 1, model.count)
        rows = [here.cost[e] + p.end_cost[e - model.proof - 1] for e in ends]
        steps = list(ends)
        for r in self.order[:1]:
            rows.append(self._all(access))
            steps.append(model.checks + r)
        if here.allowed[model.proof]:
            rows.append(self._prove(access, self._all))
            steps.append(model.proof)
        for r in self.order:
            a = model.checks + r
            if not here.allowed[a]:
                continue
            for then in (self._all, self._end):
                tail = self._prove(int(here.after[a]), then)
                rows.append(here.cost[a] + self._took(r, tail))
                steps.append(a)
        self._steps[access] = steps
        return np.array(rows)

    def _took(self, r: int, tail: Floats) -> Floats:
        p = self.model.problem
        found: Floats = p.success[r] * tail[p.successor[r]] + (1.0 - p.success[r]) * tail
        return found

    def _prove(self, access: int, then: Tail) -> Floats:
        """The proof, and on failing the rest; without leave to prove, the rest at once."""
        model, p = self.model, self.model.problem
        here = model.at(access)
        if not here.allowed[model.proof]:
            return then(access)
        rest = then(int(here.after[model.proof]))
        found: Floats = here.cost[model.proof] + model.false_pass + (1.0 - p.proof_pass) * rest
        return found

    def _end(self, access: int) -> Floats:
        model = self.model
        cost = model.at(access).cost[model.proof + 1 :]
        best = int(np.argmin(self._cheapest_end + cost))
        found: Floats = cost[best] + model.problem.end_cost[best]
        return found

    def _all(self, access: int) -> Floats:
        """The long plan: every repair with a proof after it, then the end."""
        found = self._long.get(access)
        if found is not None:
            return found
        model, trail, now = self.model, [], access
        for r in self.order:
            here, a = model.at(now), model.checks + r
            if here.allowed[a]:
                trail.append((r, now))
                now = int(here.after[a])
                proving = model.at(now)
                if proving.allowed[model.proof]:
                    now = int(proving.after[model.proof])
        tail = self._end(now)
        for r, at in reversed(trail):
            here, a = model.at(at), model.checks + r
            tail = here.cost[a] + self._took(r, self._prove(int(here.after[a]), _always(tail)))
        self._long[access] = tail
        return tail


def _always(cost: Floats) -> Tail:
    return lambda _access: cost
