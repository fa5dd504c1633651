"""The policy as a tree."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.strategy import Step, strategy
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_the_tree_costs_what_the_solver_says() -> None:
    form = made_up(3, faults=4, checks=3)
    problem = problem_from(form)
    decider = Decider(Model(problem))
    decider.decide(problem.prior, problem.initially, 0, 5.0)
    tree = strategy(decider, depth=60, least=0.0, seconds=2.0)

    def cost(step: Step) -> float:
        return step.cost + sum(b.chance * cost(b.then) for b in step.branches if b.then is not None)

    assert cost(tree) == pytest.approx(least_cost(form), rel=3e-6)


def test_the_tree_is_cut_at_its_depth() -> None:
    def depth(step: Step) -> int:
        return 1 + max((depth(b.then) for b in step.branches if b.then is not None), default=0)

    assert depth(strategy(Decider(Model(wide(12, 10, 3))), depth=3, least=0.0, rounds=3)) == 3
