"""Where a job stands."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.reasoning.planner.job import Job
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import build_problem
from tests.reasoning.planner.made_up import wide


def test_a_failed_proof_after_a_repair_points_at_the_rest() -> None:
    problem = wide(3, 2, 2)
    model = Model(problem)
    job = Job(model)
    job.fold(model.checks + 0, 0)
    assert job.belief[0] == pytest.approx(problem.prior[1])
    job.fold(model.proof, 0)
    rest = problem.prior[2:] / problem.prior[2:].sum()
    assert job.belief.tolist() == pytest.approx([0.0, 0.0, *rest])
    job.fold(model.proof, 1)
    assert job.over


def test_once_only_checks_and_open_covers_are_kept() -> None:
    model = Model(wide(3, 2, 2))
    job = Job(model)
    job.fold(1, 0)
    assert job.used == 0b10
    assert job.access == int(model.problem.check_open[1])


def test_an_outcome_there_is_not_changes_nothing() -> None:
    model = Model(wide(3, 2, 2))
    job = Job(model)
    for action, outcome in ((0, 3), (0, -1), (model.checks, 1), (model.proof, 2)):
        with pytest.raises(InputError):
            job.fold(action, outcome)
    assert job.belief is model.problem.prior
    assert job.used == 0


def test_an_impossible_outcome_leaves_a_belief_that_sums_to_one() -> None:
    problem = build_problem(
        prior=[0, 0.5, 0.5], check_cost=[1], likelihood=[[[1, 1, 1], [0, 0, 0]]], repair_cost=[], end_cost=9
    )
    job = Job(Model(problem))
    job.fold(0, 1)
    assert job.surprises == 1
    assert job.belief.sum() == pytest.approx(1.0)
    assert job.belief[0] == 0.0


def test_a_copy_goes_its_own_way() -> None:
    model = Model(wide(3, 2, 2))
    job = Job(model)
    job.copy().fold(0, 0)
    assert job.used == 0
