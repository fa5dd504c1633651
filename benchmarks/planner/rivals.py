"""Other ways to choose the next step, from the books; each gets what it needs to do its best.

All prove right after a repair. Prices include the access moves from where the job stands.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.simulation import Policy

THRESHOLDS = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95)


class _Rival:
    def __init__(self, model: Model) -> None:
        self.model = model
        p = model.problem
        self.moved = (p.successor != np.arange(len(p.prior))) * p.success[:, None]
        self.ahead = LookAhead(model, price=1.0)

    def forced(self, belief: Floats) -> int | None:
        """Prove when something may have been cured; end when nothing is left to do."""
        if belief[self.model.problem.healthy] > 1e-9:
            return self.model.proof
        if not (self.moved @ belief > 1e-9).any():
            return self.model.proof + 1
        return None

    def repair(self, belief: Floats, access: int) -> int:
        """The repair with the most chance for its price."""
        cost = self.model.at(access).cost[self.model.checks : self.model.proof]
        proof = self.model.problem.proof_cost
        return self.model.checks + int(np.argmax(self.moved @ belief / (cost + proof)))

    def bits(self, belief: Floats, used: int) -> Floats:
        """What each check that is left tells about the group, bits."""
        row = belief[None]
        model = self.model
        open_ = np.array([0.0 if used & bit else 1.0 for bit in model.once_bits])
        found: Floats = self.ahead.tells(row)[0] * open_
        return found


def chance_over_price(model: Model) -> Policy:
    """No checks: repairs by chance over price (Kadane and Simon 1977; Kalagnanam and Henrion 1990)."""
    rival = _Rival(model)

    def choose(belief: Floats, access: int, used: int) -> int:
        forced = rival.forced(belief)
        return forced if forced is not None else rival.repair(belief, access)

    return choose


def fixed_chart(model: Model, threshold: float) -> Policy:
    """A chart on the wall: checks always in one order, the most telling per minute first."""
    rival = _Rival(model)
    p = model.problem
    worth = rival.bits(p.prior, 0) / np.maximum(model.at(p.initially).cost[: model.checks], 1e-9)
    order = np.argsort(-worth, kind="stable").tolist()

    def choose(belief: Floats, access: int, used: int) -> int:
        forced = rival.forced(belief)
        if forced is not None:
            return forced
        left = [c for c in order if not used & model.once_bits[c]]
        if not left or _sure(rival, belief) >= threshold:
            return rival.repair(belief, access)
        return int(left[0])

    return choose


def information_gain(model: Model, threshold: float) -> Policy:
    """The check that tells the most per minute until one repair is likely enough to be right."""
    rival = _Rival(model)

    def choose(belief: Floats, access: int, used: int) -> int:
        forced = rival.forced(belief)
        if forced is not None:
            return forced
        bits = rival.bits(belief, used)
        if _sure(rival, belief) >= threshold or not len(bits) or bits.max() <= 1e-9:
            return rival.repair(belief, access)
        return int(np.argmax(bits / np.maximum(model.at(access).cost[: model.checks], 1e-9)))

    return choose


def myopic_repair_aware(model: Model) -> Policy:
    """Observe when price plus expected plan cost after it is below the plan cost now.

    After D. Heckerman, J. S. Breese and K. Rommelse, CACM 38(3):49-57, 1995; the plan is chance over price.
    """
    rival = _Rival(model)
    p = model.problem

    def plan_cost(beliefs: Floats, access: int) -> Floats:
        price = model.at(access).cost[model.checks : model.proof] + p.proof_cost
        chance = beliefs @ rival.moved.T
        order = np.argsort(-chance / price, axis=1)
        sorted_chance = np.take_along_axis(chance, order, axis=1)
        reach = np.maximum(1.0 - np.cumsum(sorted_chance, axis=1) + sorted_chance, 0.0)
        found: Floats = np.minimum((reach * price[order]).sum(axis=1), p.end_cost[0, 0])
        return found

    def choose(belief: Floats, access: int, used: int) -> int:
        forced = rival.forced(belief)
        if forced is not None:
            return forced
        here = model.at(access)
        best, action = float(plan_cost(belief[None], access)[0]), rival.repair(belief, access)
        joint = model.after_checks(belief[None])[0]
        chance = joint.sum(axis=2)
        after = joint / np.maximum(chance, 1e-12)[..., None]
        cost = plan_cost(after.reshape(-1, len(belief)), access).reshape(chance.shape)
        total = here.cost[: model.checks] + (chance * cost).sum(axis=1)
        for c in np.argsort(total).tolist():
            if not used & model.once_bits[c] and total[c] < best - 1e-9:
                return int(c)
        return action

    return choose


def _sure(rival: _Rival, belief: Floats) -> float:
    return float((rival.moved @ belief).max())


Tuned = Callable[[Model, float], Policy]
