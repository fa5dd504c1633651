"""Doubt after repairs, worked out from what they touch."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.doubt import RepairDoubt
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.value import entropy_bits
from tests.reasoning.planner.made_up import made_up


@pytest.mark.parametrize("seed", range(6))
def test_it_equals_working_everything_out_again(seed: int) -> None:
    problem = problem_from(made_up(seed, faults=5, pairs=2, perfect=False))
    model = Model(problem)
    states = len(problem.prior)
    group = np.arange(states)
    beliefs = np.random.default_rng(seed).dirichlet(np.ones(states), size=7)
    sick, spread = RepairDoubt(model, group).after(beliefs, beliefs[:, 1:])
    after = model.after_repairs(beliefs)[:, :, 1:]
    whole = after.sum(axis=2)
    assert np.allclose(sick, whole)
    assert np.allclose(spread, entropy_bits(after) + whole * np.log2(whole))


def test_a_repair_that_moves_nothing_is_marked() -> None:
    problem = build_problem(prior=[0, 1], repair_cost=[1, 1], successor=[[0, 0], [0, 1]], end_cost=9)
    _, spread = RepairDoubt(Model(problem), np.array([0, 1])).after(np.array([[0.0, 1.0]]), np.array([[1.0]]))
    assert np.isfinite(spread[0, 0])
    assert np.isinf(spread[0, 1])
