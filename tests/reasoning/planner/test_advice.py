"""The advice for one moment of a job."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner.advice import consider, glance
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.strategy import Step, strategy
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up, wide


def test_a_forbidden_step_is_never_proposed() -> None:
    free = wide(8, 10, 3)
    best = LookAhead(Model(free)).rank(free.prior, 0, 0)[0].action
    asked: list[int] = []

    def allowed(kind: str, index: int, access: int) -> bool:
        asked.append(access)
        return (kind, index) != (best.kind, best.index)

    form = {name: getattr(free, name) for name in ("prior", "open_cost", "close_cost", "check_cost", "check_open")}
    form |= {
        name: getattr(free, name) for name in ("likelihood", "repair_cost", "repair_open", "successor", "end_cost")
    }
    shut = build_problem(**form, proof_cost=3, proof_closed=0b111, allowed=allowed)
    found = consider(Model(shut), seconds=0.05)
    assert asked
    assert best not in [step.action for step in found.ranked]

    def steps(step: Step) -> set[object]:
        return {step.action}.union(*[steps(b.then) for b in step.branches if b.then is not None])

    assert best not in steps(strategy(Decider(Model(shut)), depth=4, rounds=20))


def test_the_advice_lies_between_the_bounds_and_equals_the_optimum_when_proven() -> None:
    form = made_up(6, faults=4, checks=3)
    found = consider(Model(problem_from(form)), seconds=5.0)
    assert found.proven
    assert found.ranked[0].value == pytest.approx(least_cost(form), rel=2e-6)
    assert all(step.value >= found.low - 1e-9 for step in found.ranked)
    assert [step.value for step in found.ranked] == sorted(step.value for step in found.ranked)


def test_known_state_costs_serve_a_later_belief() -> None:
    problem = wide(10, 8, 3)
    first = Model(problem)
    again = Model(problem, known=first.known)
    assert consider(again, rounds=5).ranked == consider(first, rounds=5).ranked


def test_several_ends_are_told_apart() -> None:
    # scrap now for 10, or send away for 4 when it is fault 1 and 60 when it is fault 2; a check of 1 tells which
    problem = build_problem(
        prior=[0, 0.5, 0.5],
        check_cost=[1],
        likelihood=[[[1, 1, 0], [0, 0, 1]]],
        proof_cost=1,
        end_cost=[[10, 10, 10], [4, 4, 60]],
        end_ids=["scrap", "send-away"],
    )
    found = consider(Model(problem), seconds=1.0)
    assert found.proven
    assert found.action.id == "check-0"
    assert found.ranked[0].value == pytest.approx(1 + 0.5 * 4 + 0.5 * 10)


def test_a_glance_ranks_like_the_look_ahead_and_stays_above_the_bound() -> None:
    model = Model(wide(40, 50, 8))
    found, ahead = glance(model), LookAhead(model).rank(model.problem.prior, 0, 0)
    assert [step.action for step in found.ranked] == [step.action for step in ahead]
    assert not found.proven
    assert found.low <= found.ranked[0].value
    assert 0.0 < found.low <= consider(model, rounds=3).low + 1e-9
