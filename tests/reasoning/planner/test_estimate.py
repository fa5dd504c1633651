"""Estimates from a search that is not finished."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.estimate import estimates
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_a_finished_search_leaves_nothing_to_guess() -> None:
    form = made_up(7, faults=4, checks=3)
    problem = problem_from(form)
    decider = Decider(Model(problem))
    root = decider.search.node(problem.prior, problem.initially, 0)
    decider.search.run(root)
    assert min(estimates(decider.ahead, root).values()) == pytest.approx(least_cost(form), rel=1e-5)


def test_estimates_lie_above_the_lower_bounds() -> None:
    model = Model(wide(12, 12, 3))
    decider = Decider(model)
    root = decider.search.node(model.problem.prior, 0, 0)
    decider.search.run(root, rounds=6)
    found, lows = estimates(decider.ahead, root), decider.search.lows(root)
    assert found
    assert all(value >= lows[action] - 1e-9 for action, value in found.items())


def test_an_untouched_node_gives_nothing() -> None:
    model = Model(wide(5, 4, 2))
    decider = Decider(model)
    assert estimates(decider.ahead, decider.search.node(model.problem.prior, 0, 0)) == {}
