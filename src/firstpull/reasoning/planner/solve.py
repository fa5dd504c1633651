"""Solves a problem within a time and says how good the answer is proven to be."""

from __future__ import annotations

import time
from pathlib import Path

from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Problem
from firstpull.reasoning.planner.reading import read_problem
from firstpull.reasoning.planner.simulation import simulate

SEARCH_SHARE = 0.7  # of the time, spent on searching before the policy that would be followed is tried out (judgement)
CLOSE_ENOUGH = 0.02  # relative gap below which trying out another policy is not worth the time (judgement)


def solve(problem: Problem, seconds: float = 10.0) -> dict[str, str | float | bool]:
    """Find the policy to follow and what it costs.

    Args:
        problem: the problem [1], scalar.
        seconds: time allowed [s], scalar.

    Returns:
        `first` (id of the first action), `expected_cost` [cost] of the policy that would be followed, `lower_bound`
        [cost] on every policy, `gap` [1] and `proven` [1], scalar.

    Raises:
        Nothing.

    Valid:
        any problem; without enough time the cost is that of a plan without a proof, or the mean of simulated jobs.

    Source:
        judgement.
    """
    until = time.monotonic() + seconds
    decider = Decider(Model(problem))
    search = decider.search
    start = (problem.prior, problem.initially, 0)
    root = search.node(*start)
    search.run(root, SEARCH_SHARE * seconds)
    expected = root.high
    if root.gap > CLOSE_ENOUGH * root.low:
        tried = simulate(decider.model, decider.ahead.choose, until - time.monotonic())
        if tried is not None and tried.mean < expected:
            expected = max(tried.mean, root.low)
    first = decider.decide(*start, seconds=0.0).action
    proven = root.gap <= 1e-6 * max(root.low, 1e-9)
    gap = expected / root.low - 1.0 if root.low > 0.0 else (0.0 if expected <= 0.0 else float("inf"))
    return {
        "first": problem.actions[first].id,
        "expected_cost": expected,
        "lower_bound": root.low,
        "gap": gap,
        "proven": proven,
    }


def solve_file(path: str | Path, seconds: float = 10.0) -> dict[str, str | float | bool]:
    """Read a problem file and solve it.

    Args:
        path: where the file lies [1], scalar.
        seconds: time allowed [s], scalar.

    Returns:
        As `solve`: costs [cost] and what is proven [1], scalar.

    Raises:
        InputError: the file does not hold a problem (from the reader).
        ManyErrors: several things in it do not fit (from the reader).

    Valid:
        any file.

    Source:
        judgement.
    """
    return solve(read_problem(path), seconds)
