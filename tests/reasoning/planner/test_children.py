"""What one step can lead to."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.children import children_of, unused_checks
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from tests.reasoning.planner.made_up import made_up


def test_useless_steps_have_no_price_and_the_rest_sum_to_one() -> None:
    problem = problem_from(made_up(3, faults=4, checks=3))
    model = Model(problem)
    found = children_of(model, InformationBound(model), problem.prior[None], [problem.initially], [0b1])
    assert np.isinf(found.cost[0, 0])  # the first check has been done
    assert np.isinf(found.cost[0, model.proof])  # nothing has been repaired: the proof cannot pass
    total = np.bincount(found.slot, weights=found.chance, minlength=model.count)
    useful = np.isfinite(found.cost[0, : model.proof])
    assert total[: model.proof][useful].tolist() == pytest.approx([1.0] * int(useful.sum()))
    assert not total[: model.proof][~useful].any()
    assert np.allclose(found.beliefs.sum(axis=1), 1.0)


def test_the_bound_of_a_belief_and_of_its_children_agree() -> None:
    problem = problem_from(made_up(4, faults=4, checks=3))
    model, used = Model(problem), [0]
    bound = InformationBound(model)
    start = unused_checks(model, used)
    low, _ = bound.low(problem.prior[None], [model.at(problem.initially)], np.zeros(1, np.int64), start)
    found = children_of(model, bound, problem.prior[None], [problem.initially], used)
    owed = np.bincount(found.slot, weights=found.chance * found.low, minlength=model.count)
    assert float((found.cost[0] + owed).min()) >= float(low[0]) - 1e-9  # one step more never lowers the bound
