"""The next step within a time or an effort."""

from __future__ import annotations

import time

import pytest

from firstpull.reasoning.planner.advice import consider
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_the_same_effort_gives_the_same_advice() -> None:
    problem = wide(15, 12, 4)
    once, twice = (consider(Model(problem), seconds=60.0, rounds=6) for _ in range(2))
    assert once == twice


def test_the_decision_is_proven_when_the_search_closes() -> None:
    form = made_up(6, faults=4, checks=3)
    problem = problem_from(form)
    decision = Decider(Model(problem)).decide(problem.prior, problem.initially, 0, 5.0)
    assert decision.proven
    assert decision.value == pytest.approx(least_cost(form), rel=2e-6)


def test_without_any_effort_the_look_ahead_decides() -> None:
    model = Model(wide(30, 20, 4))
    decider = Decider(model)
    decision = decider.decide(model.problem.prior, 0, 0, rounds=0)
    assert not decision.proven
    assert decision.action == decider.ahead.choose(model.problem.prior, 0, 0)


def test_little_time_is_kept() -> None:
    model = Model(wide(60, 60, 8))
    decider = Decider(model)
    times = []
    for _ in range(12):
        start = time.perf_counter()
        decider.decide(model.problem.prior, 0, 0, 0.05)
        times.append(time.perf_counter() - start)
    assert sorted(times)[6] < 0.15  # three times the bound, for a busy machine
