"""Policies tried on made-up jobs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.simulation import play_out, simulate
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_the_mean_agrees_with_the_exact_cost() -> None:
    form = made_up(3, faults=4, checks=3)
    problem = problem_from(form)
    decider = Decider(Model(problem))
    trial = simulate(decider.model, lambda b, a, u: decider.decide(b, a, u, 1.0).action, jobs=1500)
    assert trial is not None
    assert abs(trial.mean - least_cost(form)) < 4 * trial.error + 1e-9


def test_the_known_state_cost_steadies_the_mean() -> None:
    problem = wide(20, 15, 4)
    model = Model(replace(problem, repair_cost=problem.repair_cost**2, end_cost=problem.end_cost * 100))
    ahead = LookAhead(model)
    trial = simulate(model, ahead.choose, jobs=120)
    draw = np.random.default_rng(1)
    states = [int(draw.choice(21, p=model.problem.prior)) for _ in range(120)]
    raw = np.array([play_out(model, ahead.choose, state, draw) for state in states])
    assert trial is not None
    assert trial.error < 0.8 * float(raw.std(ddof=1)) / np.sqrt(120)


def test_too_little_time_gives_no_figure() -> None:
    model = Model(wide(5, 4, 2))
    assert simulate(model, LookAhead(model).choose, seconds=0.0) is None
