"""What a policy costs, exactly: every outcome followed, equal moments of a job shared."""

from __future__ import annotations

import numpy as np

from firstpull.reasoning.planner.model import IMPOSSIBLE, Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.simulation import Policy


def policy_cost(model: Model, policy: Policy) -> float:
    """The expected cost of a policy from the start; once-only checks and perfect repairs, so that it ends."""
    memo: dict[bytes, float] = {}
    p = model.problem

    def cost(belief: Floats, access: int, used: int) -> float:
        key = np.rint(belief * 1e9).astype(np.int64).tobytes() + b"%d,%d" % (access, used)
        found = memo.get(key)
        if found is not None:
            return found
        action, here = policy(belief, access, used), model.at(access)
        total = float(here.cost[action])
        if action > model.proof:
            total += float(p.end_cost[action - model.proof - 1] @ belief)
        else:
            then = used | (model.once_bits[action] if action < model.checks else 0)
            if action == model.proof:
                total += float(belief @ model.false_pass)
            for outcome in range(int(p.check_outcomes[action]) if action < model.checks else 1):
                chance, after = model.after(belief, action, outcome)
                if chance > IMPOSSIBLE:
                    total += chance * cost(after, int(here.after[action]), then)
        memo[key] = total
        return total

    return cost(p.prior, p.initially, 0)
