"""One or two steps ahead."""

from __future__ import annotations

import time

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
