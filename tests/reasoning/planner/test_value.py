"""The cost when the state is known."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.problem import build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.value import KnownStateCost, entropy_bits
from tests.reasoning.planner.brute_force import least_cost
from tests.reasoning.planner.made_up import made_up


@pytest.mark.parametrize("seed", range(12))
def test_it_is_the_least_cost_of_a_certain_belief(seed: int) -> None:
    form = made_up(seed, faults=4, checks=1, items=3, pairs=2)
    known = KnownStateCost(problem_from(form)).row(problem_from(form).initially)
    for state, cost in zip(problem_from(form).state_ids, known, strict=True):
        form["hypotheses"] = [{"id": "H", "state": state, "prior": 1.0}]
        assert cost == pytest.approx(least_cost(form), rel=1e-9)


def test_a_repair_that_seldom_takes_counts_its_tries() -> None:
    # 4 / 0.5 tries behind a cover of 3 + 1, proof 2: 8 + 4 + 2; with the cover open already 8 + 1 + 2
    problem = build_problem(
        prior=[0, 1],
        open_cost=[3],
        close_cost=[1],
        repair_cost=[4],
        repair_open=[1],
        successor=[[0, 0]],
        success=[0.5],
        proof_cost=2,
        proof_closed=1,
        end_cost=100,
    )
    known = KnownStateCost(problem)
    assert known.rows([0, 1])[:, 1].tolist() == [14.0, 11.0]
    assert known.rows([0, 1])[:, 0].tolist() == [2.0, 3.0]


def test_twenty_five_access_items_need_no_table_of_their_combinations() -> None:
    items = 25
    problem = build_problem(
        prior=[0, *[1.0] * items],
        open_cost=np.arange(1, items + 1),
        close_cost=np.ones(items),
        repair_cost=np.full(items, 10.0),
        repair_open=[1 << a for a in range(items)],
        successor=[[0 if s == r + 1 else s for s in range(items + 1)] for r in range(items)],
        proof_closed=(1 << items) - 1,
        end_cost=1000,
    )
    known = KnownStateCost(problem)
    assert known.row(0)[1:].tolist() == [10.0 + a + 1.0 for a in range(1, items + 1)]
    assert known.row((1 << items) - 1)[1:].tolist() == [10.0 + items] * items


def test_repairs_that_run_in_a_circle_are_priced() -> None:
    # a botched state: repair 0 turns fault 1 into state 2, repair 1 turns state 2 back, repair 2 cures state 2 only
    problem = build_problem(
        prior=[0, 1, 0], repair_cost=[1, 1, 5], successor=[[0, 2, 2], [0, 1, 1], [0, 1, 0]], end_cost=100
    )
    assert KnownStateCost(problem).row(0).tolist() == [0.0, 6.0, 5.0]


def test_a_fair_coin_is_one_bit() -> None:
    assert entropy_bits(np.array([[0.5, 0.5], [1.0, 0.0]])).tolist() == [1.0, 0.0]
