"""What actions cost and lead to."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Problem, build_problem


def _covers() -> Problem:
    return build_problem(
        prior=[0, 0.6, 0.4],
        open_cost=[3, 5],
        close_cost=[1, 2],
        check_cost=[2],
        check_open=[0b11],
        check_closed=[0],
        likelihood=[[[1, 0.9, 0.2], [0, 0.1, 0.8]]],
        repair_cost=[10, 20],
        repair_open=[0b01, 0b10],
        successor=[[0, 0, 2], [0, 1, 0]],
        success=[1.0, 0.5],
        proof_cost=4,
        proof_closed=0b11,
        end_cost=100,
    )


def test_access_moves_are_paid_and_the_rest_stays() -> None:
    here = Model(_covers()).at(0b01)
    assert here.cost.tolist() == [2 + 5, 10, 20 + 5, 4 + 1, 0]
    assert here.after.tolist() == [0b11, 0b01, 0b11, 0, 0b01]


def test_a_repair_that_takes_half_the_time_moves_half_the_belief() -> None:
    model = Model(_covers())
    after = model.after_repairs(np.array([[0.0, 0.6, 0.4]]))[0]
    assert after.tolist() == [[0.6, 0.0, 0.4], [0.2, 0.6, 0.2]]


def test_a_reading_weighs_the_states() -> None:
    chance, after = Model(_covers()).after(np.array([0.0, 0.6, 0.4]), 0, 1)
    assert chance == pytest.approx(0.6 * 0.1 + 0.4 * 0.8)
    assert after[2] == pytest.approx(0.32 / 0.38)


def test_cost_and_known_cost_after_a_step_add_up() -> None:
    model = Model(_covers())
    here = model.at(0)
    # repair 1 behind cover 1 takes half the time: 5 + 20, then half the time only the proof and closing
    still = model.known.row(0b10)
    assert here.then_known[2, 2] == pytest.approx(25 + 0.5 * still[0] + 0.5 * still[2])
    assert here.then_known[1, 2] == pytest.approx(3 + 10 + model.known.row(0b01)[2])
