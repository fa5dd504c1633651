"""The search between two bounds."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.search import Search
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_bounds_only_close_and_always_hold_the_optimum() -> None:
    form = made_up(25, faults=4, checks=3)
    problem, best = problem_from(form), least_cost(form)
    search = Search(Model(problem))
    root = search.node(problem.prior, problem.initially, 0)
    low, high = root.low, root.high
    for _ in range(200):
        search.run(root, rounds=1)
        assert low - 1e-9 <= root.low <= best + 1e-6
        assert best - 1e-6 <= root.high <= high + 1e-9
        low, high = root.low, root.high
    assert high - low <= 2e-6 * best


def test_equal_moments_are_one_node() -> None:
    problem = problem_from(made_up(2))
    search = Search(Model(problem))
    assert search.node(problem.prior, 0, 0) is search.node(problem.prior + 1e-12, 0, 0)
    assert search.node(problem.prior, 0, 0) is not search.node(problem.prior, 0, 1)


def test_what_is_forgotten_is_found_again() -> None:
    problem = problem_from(made_up(2))
    search = Search(Model(problem))
    search.run(search.node(problem.prior, problem.initially, 0))
    before = search.node(problem.prior, problem.initially, 0).low
    search.forget()
    assert search.nodes() == []
    again = search.node(problem.prior, problem.initially, 0)
    search.run(again)
    assert again.low == pytest.approx(before, rel=1e-6)


def test_a_check_that_hardly_tells_and_costs_nothing_much_is_survived() -> None:
    problem = build_problem(
        prior=[0, 0.5, 0.5],
        check_cost=[1e-4],
        check_once=[False],
        likelihood=[[[0.5, 0.505, 0.495], [0.5, 0.495, 0.505]]],
        repair_cost=[10, 10],
        successor=[[0, 0, 2], [0, 1, 0]],
        end_cost=1000,
    )
    search = Search(Model(problem))
    root = search.node(problem.prior, 0, 0)
    search.run(root, rounds=400)
    assert 10.0 <= root.low <= root.high <= 15.0 + 1e-9


def test_what_a_step_certainly_costs_is_never_below_its_bound() -> None:
    model = Model(wide(12, 8, 3))
    found = Search(model)
    root = found.node(model.problem.prior, 0, 0)
    assert found.highs(root) == {}
    found.run(root, rounds=40)
    lows, highs = found.lows(root), found.highs(root)
    assert highs
    for action, high in highs.items():
        assert root.low <= lows[action] <= high + 1e-9
