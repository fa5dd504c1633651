"""Repairs that do not always take, proofs that let faults through, checks that may be repeated: worked by hand."""

from __future__ import annotations

import pytest

from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Problem, build_problem
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.search import Search
from firstpull.reasoning.planner.solve import solve
from tests.reasoning.planner.made_up import made_up


def _cost(problem: Problem) -> float:
    found = solve(problem, 10.0)
    assert found["proven"] is True
    return float(found["expected_cost"])


def test_a_cheap_proof_follows_every_try() -> None:
    # one try and one proof cost 7 and succeed with 0.8: 7 / 0.8; two tries a proof would cost 12 / 0.96
    problem = build_problem(
        prior=[0, 1], repair_cost=[5], successor=[[0, 0]], success=[0.8], proof_cost=2, end_cost=1000
    )
    assert _cost(problem) == pytest.approx(7 / 0.8, rel=2e-6)


def test_a_dear_proof_waits_for_three_tries() -> None:
    # k tries and a proof: (k + 10) / (1 - 0.5^k), least at k = 3
    problem = build_problem(
        prior=[0, 1], repair_cost=[1], successor=[[0, 0]], success=[0.5], proof_cost=10, end_cost=1000
    )
    assert min((k + 10) / (1 - 0.5**k) for k in range(1, 9)) == 13 / 0.875
    assert _cost(problem) == pytest.approx(13 / 0.875, rel=2e-6)


@pytest.mark.parametrize(("comeback", "best"), [(30.0, 5.0), (10.0, 4.0)])
def test_a_leaky_proof_is_trusted_when_a_comeback_is_cheap(comeback: float, best: float) -> None:
    # healthy or faulty, evenly; the proof costs 1 and passes a faulty machine with 0.2; the repair costs 4.
    # Repair and prove: 5. Prove first: 1 + 0.5 (0.2 comeback + 0.8 * 5) = 6 or 4.
    problem = build_problem(
        prior=[0.5, 0.5],
        repair_cost=[4],
        successor=[[0, 0]],
        proof_cost=1,
        proof_pass=[1, 0.2],
        comeback_cost=comeback,
        end_cost=1000,
    )
    assert _cost(problem) == pytest.approx(best, rel=2e-6)


def test_a_repeated_check_stops_at_three_readings_ahead() -> None:
    # two faults, evenly; a check of 0.2 right with 0.8; either repair costs 10; the proof is free. With d readings
    # ahead the leading fault has odds 4^d; stopping costs 10 + 10 / (1 + 4^d). Stop at d = 3:
    # W2 = 0.2 + u W3 + (1 - u) W1 with u = (16 * 0.8 + 0.2) / 17; W1 = 0.2 + 0.68 W2 + 0.32 W0; W0 = 0.2 + W1
    up, last = (16 * 0.8 + 0.2) / 17, 10 + 10 / 65
    ahead = (0.2 + 0.32 * 0.2) / 0.68  # W1 - W2
    two = (0.2 + up * last + (1 - up) * ahead) / up
    problem = build_problem(
        prior=[0, 0.5, 0.5],
        check_cost=[0.2],
        check_once=[False],
        likelihood=[[[0.5, 0.8, 0.2], [0.5, 0.2, 0.8]]],
        repair_cost=[10, 10],
        successor=[[0, 0, 2], [0, 1, 0]],
        end_cost=1000,
    )
    assert _cost(problem) == pytest.approx(0.2 + ahead + two, rel=2e-6)


def test_a_check_once_only_is_done_once() -> None:
    # the same with a once-only check: 0.2 + 10 + 0.2 * 10
    problem = build_problem(
        prior=[0, 0.5, 0.5],
        check_cost=[0.2],
        likelihood=[[[0.5, 0.8, 0.2], [0.5, 0.2, 0.8]]],
        repair_cost=[10, 10],
        successor=[[0, 0, 2], [0, 1, 0]],
        end_cost=1000,
    )
    assert _cost(problem) == pytest.approx(12.2, rel=2e-6)


@pytest.mark.parametrize("seed", [0, 4, 7, 9, 12, 16])
def test_the_information_bound_changes_no_value_of_an_endless_problem(seed: int) -> None:
    problem = problem_from(made_up(seed, faults=3, checks=2, items=1 + seed % 2, pairs=seed % 2, perfect=False))
    ends = []
    for informed in (True, False):
        search = Search(Model(problem))
        if not informed:
            search.bound.switch_off()
        root = search.node(problem.prior, problem.initially, 0)
        search.run(root, rounds=2000, gap=1e-3)
        ends.append((root.low, root.high))
    assert ends[0][0] <= ends[1][1] * (1 + 1e-9)
    assert ends[1][0] <= ends[0][1] * (1 + 1e-9)
    assert ends[0][1] - ends[0][0] <= 2e-3 * ends[0][1]
