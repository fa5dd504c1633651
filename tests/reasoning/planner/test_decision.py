"""The next step within a time or an effort."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner import decision, search
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
    found = Decider(Model(problem)).decide(problem.prior, problem.initially, 0, 5.0)
    assert found.proven
    assert found.value == pytest.approx(least_cost(form), rel=2e-6)


def test_without_any_effort_the_look_ahead_decides() -> None:
    model = Model(wide(30, 20, 4))
    decider = Decider(model)
    found = decider.decide(model.problem.prior, 0, 0, rounds=0)
    assert not found.proven
    assert found.action == decider.ahead.choose(model.problem.prior, 0, 0)


class Clock:
    """A clock on which every look takes a millisecond."""

    def __init__(self) -> None:
        self.now = 0.0

    def monotonic(self) -> float:
        self.now += 0.001
        return self.now


def test_a_search_ends_when_its_time_is_up(monkeypatch: pytest.MonkeyPatch) -> None:
    model = Model(wide(60, 60, 8))
    looked = []
    for seconds in (0.05, 0.5):
        clock = Clock()
        monkeypatch.setattr(search, "time", clock)
        monkeypatch.setattr(decision, "time", clock)
        decider = Decider(model)
        assert not decider.decide(model.problem.prior, 0, 0, seconds).proven
        assert clock.now <= seconds + 0.01
        looked.append(decider.search.expanded)
    assert 0 < looked[0] < looked[1]
