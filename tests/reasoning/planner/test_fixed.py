"""Plans that do not look at readings."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.fixed import FixedPlans
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import build_problem
from firstpull.reasoning.planner.reading import problem_from
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


@pytest.mark.parametrize("seed", range(8))
def test_they_never_cost_less_than_the_optimum(seed: int) -> None:
    form = made_up(seed, faults=4, checks=2)
    problem = problem_from(form)
    assert FixedPlans(Model(problem)).high(problem.prior, problem.initially) >= least_cost(form) - 1e-9


def test_a_certain_fault_is_repaired_at_the_known_price() -> None:
    problem = wide(6, 4, 3)
    model = Model(problem)
    plans = FixedPlans(model)
    for fault in range(1, 7):
        belief = np.eye(7)[fault]
        assert plans.high(belief, 0) == pytest.approx(float(model.at(0).known[fault]))
        assert problem.actions[plans.first(belief, 0)].id == f"repair-{fault - 1}"


def test_the_first_step_is_never_a_useless_one() -> None:
    problem = build_problem(
        prior=[0, 0.6, 0.4], repair_cost=[1, 1], successor=[[0, 0, 2], [0, 1, 0]], proof_cost=0, end_cost=50
    )
    plans = FixedPlans(Model(problem))
    plans.high(np.array([0.0, 0.0, 1.0]), 0)
    assert plans.first(np.array([0.0, 0.0, 1.0]), 0) == 1
