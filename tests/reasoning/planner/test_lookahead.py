"""One or two steps ahead."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest

from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.simulation import simulate
from tests.reasoning.planner.made_up import wide


def test_a_hundred_faults_and_two_hundred_checks_are_decided_in_milliseconds() -> None:
    model = Model(wide(100, 200, 20))
    ahead = LookAhead(model)
    times = []
    for _ in range(7):
        start = time.perf_counter()
        ahead.rank(model.problem.prior, 0, 0)
        times.append(time.perf_counter() - start)
    assert min(times) < 0.1  # about 0.008 on an idle core


def test_the_ranking_is_in_order_and_splits_sum_to_one() -> None:
    model = Model(wide(12, 20, 4))
    ranked = LookAhead(model).rank(model.problem.prior, 0, 0)
    values = [step.value for step in ranked]
    assert values == sorted(values)
    assert all(sum(chance for _, chance in step.split) == pytest.approx(1.0) for step in ranked)


def test_looking_ahead_beats_repairing_by_chance_alone() -> None:
    model = Model(wide(20, 15, 4))
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


def test_a_glance_that_tells_next_to_nothing_costs_its_minutes_more_than_the_best_step() -> None:
    """Putting a step off must not look better than taking it, however kind the leaf behind it is."""
    problem = wide(12, 8, 3)
    likelihood, cost = problem.likelihood.copy(), problem.check_cost.copy()
    even = likelihood[0].mean(axis=1, keepdims=True)
    likelihood[0] = 0.98 * even + 0.02 * likelihood[0]
    cost[0] = 1.0
    model = Model(replace(problem, likelihood=likelihood, check_cost=cost))
    ranked = LookAhead(model).rank(model.problem.prior, 0, 0, beam=30)
    values = {(s.action.kind, s.action.index): s.value for s in ranked}
    glance = values.pop(("check", 0), np.inf)
    assert glance > min(values.values()) + 0.5


def test_no_step_is_made_cheaper_by_putting_things_off() -> None:
    model = Model(wide(20, 15, 4))
    ahead = LookAhead(model)
    here = model.at(0)
    unused = np.ones((1, model.checks))
    seen = {a: ahead._again(model.problem.prior, 0, unused, a) for a in range(model.checks)}
    plain = [one.value() for one in seen.values()]
    level = ahead._levelled(seen, [], here)
    assert all(b >= a - 1e-12 for a, b in zip(plain, level, strict=True))
    assert min(level) == pytest.approx(min(plain))
