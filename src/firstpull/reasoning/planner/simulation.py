"""Tries a policy on made-up jobs; the known-state cost of each job takes out most of the luck."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from firstpull.reasoning.planner.job import Job
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats

Policy = Callable[[Floats, int, int], int]  # belief, access state, checks done -> action
MOST_STEPS = 400


@dataclass(frozen=True)
class Trial:
    """What a policy cost on average, with the standard error."""

    mean: float
    error: float
    jobs: int


def simulate(
    model: Model, policy: Policy, seconds: float = float("inf"), jobs: int = 4000, seed: int = 1
) -> Trial | None:
    """Play jobs drawn from the model until time or jobs are up.

    Args:
        model: the problem made ready [1], scalar.
        policy: chooses an action from belief, access state and checks done [1], scalar.
        seconds: time allowed [s], scalar.
        jobs: most jobs played [1], scalar.
        seed: of the draws [1], scalar.

    Returns:
        Mean cost and standard error [cost], or None when fewer than thirty jobs fitted in, scalar.

    Raises:
        Nothing.

    Valid:
        policies that end; a job is cut off with the first end after 400 steps.

    Source:
        control variates, e.g. C. Lemieux, Monte Carlo and Quasi-Monte Carlo Sampling, 2009, chapter 4 (from
        memory).
    """
    p = model.problem
    draw = np.random.default_rng(seed)
    until = time.monotonic() + seconds
    known = model.at(p.initially).known
    costs: list[float] = []
    floors: list[float] = []
    while len(costs) < jobs and time.monotonic() < until:
        state = int(draw.choice(len(p.prior), p=p.prior))
        floors.append(float(known[state]))
        costs.append(play_out(model, policy, state, draw))
    if len(costs) < 30:
        return None
    cost, floor = np.array(costs), np.array(floors)
    spread = float(floor.var())
    slope = float(np.cov(cost, floor)[0, 1]) / spread if spread > 0.0 else 0.0
    steadied = cost - slope * (floor - float(known @ p.prior))
    return Trial(float(steadied.mean()), float(steadied.std(ddof=1) / np.sqrt(len(costs))), len(costs))


def play_out(model: Model, policy: Policy, state: int, draw: np.random.Generator) -> float:
    """Play one job on a machine in a known state.

    Args:
        model: the problem made ready [1], scalar.
        policy: chooses an action from belief, access state and checks done [1], scalar.
        state: the state the machine starts in [1], scalar.
        draw: source of chance [1], scalar.

    Returns:
        What the job cost [cost], scalar.

    Raises:
        Nothing.

    Valid:
        any state.

    Source:
        judgement.
    """
    p, job, cost = model.problem, Job(model), 0.0
    for step in range(MOST_STEPS):
        action = policy(job.belief, job.access, job.used) if step < MOST_STEPS - 1 else model.proof + 1
        cost += float(model.at(job.access).cost[action])
        outcome = 0
        if action < model.checks:
            sums = np.cumsum(p.likelihood[action, :, state])
            outcome = int(np.searchsorted(sums, draw.random() * sums[-1], side="right"))
        elif action < model.proof:
            repair = action - model.checks
            if draw.random() < p.success[repair]:
                state = int(p.successor[repair, state])
        elif action == model.proof:
            outcome = int(draw.random() < p.proof_pass[state])
            cost += float(p.comeback_cost[state]) * outcome * (state != p.healthy)
        else:
            cost += float(p.end_cost[action - model.proof - 1, state])
        job.fold(action, outcome)
        if job.over:
            break
    return cost
