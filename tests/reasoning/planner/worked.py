"""Worked examples with known answers.

T1: the six-state, five-test example of K. R. Pattipati and M. G. Alexandridis, IEEE Transactions on Systems, Man and
Cybernetics 20(4), 1990; table and published optimum 2.18 from memory. T2: after T. J. Ottosen and F. V. Jensen, "A*
wars" (two actions of efficiency .9 and .8). T3 to T5: our own, small enough to check by hand.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from firstpull.reasoning.planner.problem import Problem, build_problem


def isolate_six_states() -> Problem:
    """T1: say which of six states is present; naming a wrong one costs 1,000."""
    tests = np.array([list(map(int, row)) for row in ("00000", "01001", "00110", "10011", "11000", "11110")])
    lit = np.concatenate([np.zeros((1, 5)), tests])  # a healthy state that never occurs comes first
    naming = 1000.0 * (1.0 - np.eye(6))
    return build_problem(
        prior=[0.0, 0.70, 0.01, 0.02, 0.10, 0.05, 0.12],
        check_cost=np.ones(5),
        likelihood=np.stack([1.0 - lit.T, lit.T], axis=1),
        check_ids=["t1", "t2", "t3", "t4", "t5"],
        proof_cost=1000.0,
        end_cost=np.concatenate([np.full((6, 1), 1000.0), naming], axis=1),
        end_ids=[f"name-s{i}" for i in range(6)],
        name="isolate six states",
    )


def form(
    faults: list[float], repairs: list[tuple[float, list[int], list[str]]], access: list[dict[str, Any]]
) -> dict[str, Any]:
    """The JSON form of a problem without checks: chances of faults, repairs (cost, faults fixed, behind)."""
    names = [f"F{i}" for i in range(1, len(faults) + 1)]
    return {
        "schema": "firstpull-planning-problem/1",
        "name": "worked",
        "units": "minutes",
        "access": access,
        "states": ["healthy", *names],
        "hypotheses": [
            {"id": f"H{i}", "state": n, "prior": p} for i, (n, p) in enumerate(zip(names, faults, strict=True), 1)
        ],
        "checks": [],
        "repairs": [
            {
                "id": f"R{i}",
                "cost": cost,
                "need_open": behind,
                "need_closed": [],
                "fixes": [f"F{f}" for f in fixed],
                "success": 1.0,
            }
            for i, (cost, fixed, behind) in enumerate(repairs, 1)
        ],
        "proof": {"cost": 0, "need_closed": []},
        "give_up": {"cost": 1000, "need_closed": []},
        "rules": [],
    }


def chance_over_price() -> dict[str, Any]:
    """T3: independent repairs; the order is 3, 2, 1, 4."""
    return form([0.4, 0.3, 0.2, 0.1], [(8, [1], []), (3, [2], []), (1, [3], []), (2, [4], [])], [])


def overlapping_repairs() -> dict[str, Any]:
    """T4: the greedy first repair is 2; the best order is 1, 3."""
    return form([0.20, 0.25, 0.40, 0.15], [(1, [1, 3], []), (1, [2, 3], []), (1, [2, 4], [])], [])


def shared_cover() -> dict[str, Any]:
    """T5: repairs 3 and 4 lie behind a cover that costs 3 once."""
    cover = [{"id": "cover", "open_cost": 3, "close_cost": 0, "initially": "closed"}]
    repairs = [(2.0, [1], []), (1.0, [2], []), (1.0, [3], ["cover"]), (1.0, [4], ["cover"])]
    return form([0.35, 0.15, 0.30, 0.20], repairs, cover)
