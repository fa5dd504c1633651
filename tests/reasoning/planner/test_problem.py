"""Problems built from arrays."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.reasoning.planner.problem import build_problem


def _two_faults(**changed: Any) -> dict[str, Any]:
    return {
        "prior": [0.0, 0.7, 0.3],
        "open_cost": [3.0],
        "close_cost": [1.0],
        "check_cost": [2.0],
        "check_open": [1],
        "likelihood": [[[0.9, 0.1, 0.9], [0.1, 0.9, 0.1]]],
        "repair_cost": [5.0, 8.0],
        "successor": [[0, 0, 2], [0, 1, 0]],
        "proof_cost": 1.0,
        "proof_closed": 1,
        "end_cost": 200.0,
    } | changed


def test_what_is_not_said_has_a_default() -> None:
    problem = build_problem(**_two_faults())
    assert problem.check_once.tolist() == [True]
    assert problem.success.tolist() == [1.0, 1.0]
    assert problem.proof_pass.tolist() == [1.0, 0.0, 0.0]
    assert [a.id for a in problem.actions] == ["check-0", "repair-0", "repair-1", "proof", "give_up"]
    assert problem.actions[problem.number("repair", 1)].id == "repair-1"


def test_priors_are_scaled_to_one() -> None:
    assert build_problem(**_two_faults(prior=[0, 2, 6])).prior.tolist() == [0.0, 0.25, 0.75]


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"close_cost": [1.0, 2.0]}, "close_cost"),
        ({"check_open": [2]}, "access bits"),
        ({"check_closed": [1]}, "access bits"),
        ({"repair_cost": [5.0, -1.0]}, "costs"),
        ({"repair_cost": [5.0, float("nan")]}, "costs"),
        ({"likelihood": [[[0.9, 0.1, 0.9], [0.2, 0.9, 0.1]]]}, "likelihood"),
        ({"successor": [[0, 0, 3], [0, 1, 0]]}, "successor"),
        ({"success": [1.0, 1.5]}, "probabilities"),
        ({"prior": [0, 0, 0]}, "probabilities"),
        ({"prior": [1, 1]}, "likelihood"),
        ({"healthy": 3}, "problem"),
        ({"open_cost": [1.0] * 61, "close_cost": [1.0] * 61}, "open_cost"),
        ({"proof_open": 1}, "access bits"),
        ({"check_ids": ["a", "b"]}, "ids"),
    ],
)
def test_what_does_not_fit_is_refused_by_name(changed: dict[str, Any], where: str) -> None:
    with pytest.raises(FirstpullError) as refused:
        build_problem(**_two_faults(**changed))
    assert refused.value.where == where
    assert refused.value.right
