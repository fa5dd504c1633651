"""The look-ahead, the decision kept inside the bounds, the advice and the tree."""

from __future__ import annotations

import time

import numpy as np
import pytest
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up

from firstpull.reasoning.planner.advice import consider
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Problem, build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.simulation import simulate
from firstpull.reasoning.planner.strategy import Step, strategy


def _wide(faults: int, checks: int, items: int, outcomes: int = 3) -> Problem:
    draw = np.random.default_rng(faults)
    shown = draw.integers(outcomes, size=(checks, faults + 1))
    likelihood = np.full((checks, outcomes, faults + 1), 0.05 / (outcomes - 1))
    for c in range(checks):
        likelihood[c, shown[c], np.arange(faults + 1)] = 0.95
    return build_problem(
        prior=[0.0, *draw.dirichlet(np.ones(faults))],
        open_cost=draw.uniform(2, 8, items),
        close_cost=draw.uniform(1, 4, items),
        check_cost=draw.uniform(2, 7, checks),
        check_open=1 << draw.integers(items, size=checks),
        likelihood=likelihood,
        repair_cost=draw.uniform(10, 40, faults),
        repair_open=1 << draw.integers(items, size=faults),
        successor=[[0 if s == r + 1 else s for s in range(faults + 1)] for r in range(faults)],
        proof_cost=3,
        proof_closed=(1 << items) - 1,
        end_cost=300,
    )


def test_a_hundred_faults_and_two_hundred_checks_are_decided_in_milliseconds() -> None:
    model = Model(_wide(100, 200, 20))
    ahead = LookAhead(model)
    times = []
    for _ in range(7):
        start = time.perf_counter()
        ahead.rank(model.problem.prior, 0, 0)
        times.append(time.perf_counter() - start)
    assert min(times) < 0.1  # about 0.008 on an idle core


def test_the_ranking_is_in_order_and_splits_sum_to_one() -> None:
    model = Model(_wide(12, 20, 4))
    ranked = LookAhead(model).rank(model.problem.prior, 0, 0)
    values = [step.value for step in ranked]
    assert values == sorted(values)
    assert all(sum(chance for _, chance in step.split) == pytest.approx(1.0) for step in ranked)


def test_a_forbidden_step_is_never_proposed() -> None:
    free = _wide(8, 10, 3)
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
    form = made_up(6, faults=5, checks=3)
    found = consider(Model(problem_from(form)), seconds=5.0)
    assert found.proven
    assert found.ranked[0].value == pytest.approx(least_cost(form), rel=2e-6)
    assert all(step.value >= found.low - 1e-9 for step in found.ranked)
    assert [step.value for step in found.ranked] == sorted(step.value for step in found.ranked)


def test_known_state_costs_serve_a_later_belief() -> None:
    problem = _wide(10, 8, 3)
    first = Model(problem)
    again = Model(problem, known=first.known)
    assert consider(again, rounds=5).ranked == consider(first, rounds=5).ranked


def test_the_same_effort_gives_the_same_advice() -> None:
    problem = _wide(15, 12, 4)
    once, twice = (consider(Model(problem), seconds=60.0, rounds=6) for _ in range(2))
    assert once == twice


def test_looking_ahead_beats_repairing_by_chance_alone() -> None:
    model = Model(_wide(20, 15, 4))
    ahead = simulate(model, LookAhead(model).choose, jobs=150)
    assert ahead is not None
    order = np.argsort(-model.problem.prior[1:] / model.problem.repair_cost)

    def blind(belief: np.ndarray, access: int, used: int) -> int:
        if belief[0] > 0:
            return model.proof
        return model.checks + int(next(r for r in order if belief[r + 1] > 1e-12))

    plain = simulate(model, blind, jobs=150)
    assert plain is not None
    assert ahead.mean + 3 * ahead.error < plain.mean - 3 * plain.error


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

    assert depth(strategy(Decider(Model(_wide(12, 10, 3))), depth=3, least=0.0, rounds=3)) == 3


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
