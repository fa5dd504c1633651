"""One answer for one moment of a job: the steps considered, best first, and the bounds on what is still to come.

For a job whose belief changes from reading to reading::

    model = Model(problem)  # or Model(problem, known=last.known) while repairs, access and
    # ends are the same: that saves most of the making ready
    found = consider(model, seconds=0.02)  # belief = problem.prior, access = problem.initially
    found.ranked[0].action, found.ranked[0].value, found.low, found.high, found.proven

`glance(model)` answers at once, without searching: the look-ahead and the lower bound only.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.children import unused_checks
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.lookahead import LookAhead, Ranked
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Action, Floats


@dataclass(frozen=True)
class Considered:
    """The steps considered and what is proven about the cost from here."""

    ranked: tuple[Ranked, ...]  # best first; the first is the advice
    low: float  # no policy costs less
    high: float  # a known policy costs no more; infinite when none has been priced
    proven: bool  # the advice starts a best policy

    @property
    def action(self) -> Action:
        """The advice."""
        return self.ranked[0].action


def consider(
    model: Model,
    belief: Floats | None = None,
    access: int | None = None,
    used: int = 0,
    seconds: float = 0.02,
    rounds: int = 10**9,
    decider: Decider | None = None,
) -> Considered:
    """Weigh the next steps.

    Args:
        model: the problem made ready [1], scalar.
        belief: probability of each state, the prior unless said [1], shape (S,).
        access: bits of what is open, the start unless said [1], scalar.
        used: bits of the once-only checks done [1], scalar.
        seconds: bound on thinking by the clock [s], scalar.
        rounds: bound on thinking that is the same on every machine [1], scalar.
        decider: kept from an earlier question about the same model, so that nothing is worked out twice [1], scalar.

    Returns:
        Steps with expected costs [cost], best first, and bounds [cost], scalar.

    Raises:
        Nothing.

    Valid:
        a belief that sums to one.

    Source:
        judgement (look-ahead kept inside proven bounds).
    """
    p = model.problem
    now = p.prior if belief is None else belief
    here = p.initially if access is None else access
    decider = decider if decider is not None else Decider(model)
    decision = decider.decide(now, here, used, seconds, rounds)
    steps = decider.ahead.rank(now, here, used)
    proven = decider.search.lows(decider.search.node(now, here, used))
    kept = []
    for step in steps:
        number = p.number(step.action.kind, step.action.index)
        kept.append(replace(step, value=max(step.value, proven.get(number, decision.low))))
    advice = p.actions[decision.action]
    split = decider.ahead.split(now, decision.action)
    rest = sorted((step for step in kept if step.action != advice), key=lambda step: step.value)
    others = [replace(step, value=max(step.value, decision.value)) for step in rest]
    return Considered((Ranked(advice, decision.value, split), *others), decision.low, decision.high, decision.proven)


def glance(model: Model, belief: Floats | None = None, access: int | None = None, used: int = 0) -> Considered:
    """Weigh the next steps by looking two ahead, without any search.

    Args:
        model: the problem made ready [1], scalar.
        belief: probability of each state, the prior unless said [1], shape (S,).
        access: bits of what is open, the start unless said [1], scalar.
        used: bits of the once-only checks done [1], scalar.

    Returns:
        Steps with expected costs [cost], best first, and the lower bound [cost], scalar.

    Raises:
        Nothing.

    Valid:
        a belief that sums to one.

    Source:
        judgement (look-ahead of two with a price for a bit).
    """
    p = model.problem
    now = p.prior if belief is None else belief
    here = p.initially if access is None else access
    bound = InformationBound(model)
    low, _ = bound.low(now[None], [model.at(here)], np.zeros(1, np.int64), unused_checks(model, [used]))
    least = float(low[0])
    steps = LookAhead(model, bound=bound).rank(now, here, used)
    ranked = tuple(replace(step, value=max(step.value, least)) for step in steps)
    return Considered(ranked, least, float("inf"), False)
