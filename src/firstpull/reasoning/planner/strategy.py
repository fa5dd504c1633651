"""The policy as a tree to a chosen depth, for a chart at the bench."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.job import Job
from firstpull.reasoning.planner.problem import Action, Floats


@dataclass(frozen=True)
class Branch:
    """One outcome of a step: its index, its chance at that point, and what to do then (None: done or cut off)."""

    outcome: int
    chance: float
    then: Step | None


@dataclass(frozen=True)
class Step:
    """What to do, what the step itself costs with its access moves, and where each outcome leads."""

    action: Action
    cost: float
    access: int  # what is open before the step
    belief: tuple[float, ...]  # over the states, before the step
    branches: tuple[Branch, ...]


def strategy(
    decider: Decider,
    depth: int = 4,
    least: float = 0.01,
    seconds: float = 0.02,
    rounds: int = 10**9,
    belief: Floats | None = None,
    access: int | None = None,
    used: int = 0,
    first: int | None = None,
) -> Step:
    """Follow the policy down every outcome that is likely enough.

    Args:
        decider: decides the steps [1], scalar.
        depth: most steps on a path [1], scalar.
        least: chance of a path below which it is cut off [1], scalar.
        seconds: bound on thinking, each step [s], scalar.
        rounds: bound on thinking that is the same on every machine, each step [1], scalar.
        belief: over the states, the prior unless said [1], shape (S,).
        access: bits of what is open, the start unless said [1], scalar.
        used: bits of the once-only checks done [1], scalar.
        first: the action to begin with, as the policy says unless said [1], scalar.

    Returns:
        The first step with its branches, costs in [cost], scalar.

    Raises:
        Nothing.

    Valid:
        depth 1 or more.

    Source:
        judgement.
    """
    start = Job(decider.model)
    start.belief = start.belief if belief is None else belief
    start.access = start.access if access is None else access
    start.used = used
    return _step(decider, start, depth, 1.0, least, seconds, rounds, first)


def _step(
    decider: Decider, job: Job, depth: int, reach: float, least: float, seconds: float, rounds: int,
    first: int | None = None,
) -> Step:
    model = decider.model
    action = first
    if action is None:
        action = decider.decide(job.belief, job.access, job.used, seconds, rounds).action
    branches = []
    for outcome, chance in decider.ahead.split(job.belief, action):
        if chance <= 0.0:
            continue
        after = job.copy()
        after.fold(action, outcome)
        then = None
        if not after.over and depth > 1 and reach * chance >= least:
            then = _step(decider, after, depth - 1, reach * chance, least, seconds, rounds)
        branches.append(Branch(outcome, chance, then))
    cost = float(model.at(job.access).cost[action])
    if action > model.proof:
        cost += float(model.problem.end_cost[action - model.proof - 1] @ job.belief)
    shown = tuple(float(share) for share in job.belief)
    return Step(model.problem.actions[action], cost, job.access, shown, tuple(branches))
