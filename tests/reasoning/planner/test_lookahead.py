"""One or two steps ahead."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.simulation import simulate
from tests.reasoning.planner.made_up import wide


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


def test_many_such_glances_do_not_bear_each_other_up() -> None:
    """Each could only be put before the best step by another one that is no better."""
    problem = wide(12, 16, 3)
    likelihood, cost = problem.likelihood.copy(), problem.check_cost.copy()
    likelihood[:8] = 0.98 * likelihood[:8].mean(axis=2, keepdims=True) + 0.02 * likelihood[:8]
    cost[:8] = 0.05
    model = Model(replace(problem, likelihood=likelihood, check_cost=cost))
    ranked = LookAhead(model).rank(model.problem.prior, 0, 0, beam=30)
    assert ranked[0].action.kind != "check" or ranked[0].action.index >= 8


def test_no_step_is_made_cheaper_by_putting_things_off() -> None:
    model = Model(wide(20, 15, 4))
    ahead = LookAhead(model)
    unused = np.ones((1, model.checks))
    seen = {a: ahead._again(model.problem.prior, 0, unused, a) for a in range(model.checks)}
    plain = np.array([one.price + one.chance @ one.later for one in seen.values()])
    level = ahead._levelled(seen, [], 50.0)
    assert (level >= plain - 1e-12).all()
    # What is level stays level: held against the best of the others once more, nothing moves.
    assert ahead._levelled(seen, [], 0.0) == pytest.approx(plain)


def test_faults_with_cures_of_their_own_are_told_apart_although_one_dear_repair_would_cure_both() -> None:
    problem = wide(2, 3, 2)
    both = np.zeros((1, len(problem.prior)), dtype=np.int64)
    dear = replace(
        problem,
        repair_cost=np.r_[problem.repair_cost, 10 * problem.repair_cost.max()],
        repair_open=np.r_[problem.repair_open, 0],
        repair_closed=np.r_[problem.repair_closed, 0],
        successor=np.concatenate([problem.successor, both]),
        success=np.r_[problem.success, 1.0],
        repair_ids=(*problem.repair_ids, "all new"),
    )
    group = LookAhead(Model(dear))._group
    assert len(set(group.tolist())) == 3
    cheap = replace(dear, repair_cost=np.r_[problem.repair_cost, 0.1 * problem.repair_cost.min()])
    assert len(set(LookAhead(Model(cheap))._group.tolist())) == 2
