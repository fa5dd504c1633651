"""The planner alone: its answer is JSON whatever the problem costs."""

from __future__ import annotations

import io
import itertools
import json
from pathlib import Path
from typing import Any

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.solving import play_problem, solve_problem


def cluster() -> dict[str, Any]:
    """Four faults, two of them behind a cover; the least expected cost is 4.85."""
    repair = {"need_open": [], "need_closed": [], "success": 1.0}
    cover = repair | {"need_open": ["cover"], "cost": 1}
    return {
        "schema": "firstpull-planning-problem/1", "name": "cost cluster", "units": "minutes",
        "access": [{"id": "cover", "open_cost": 3, "close_cost": 0, "initially": "closed"}],
        "states": ["healthy", "F1", "F2", "F3", "F4"],
        "hypotheses": [{"id": f"H{i}", "state": f"F{i}", "prior": p} for i, p in enumerate((0.35, 0.15, 0.3, 0.2), 1)],
        "checks": [],
        "repairs": [repair | {"id": "R1", "cost": 2, "fixes": ["F1"]},
                    repair | {"id": "R2", "cost": 1, "fixes": ["F2"]},
                    cover | {"id": "R3", "fixes": ["F3"]}, cover | {"id": "R4", "fixes": ["F4"]}],
        "proof": {"cost": 0, "need_closed": []}, "give_up": {"cost": 1000, "need_closed": []}, "rules": [],
    }


def written(tmp_path: Path, raw: Any) -> Path:
    path = tmp_path / "problem.json"
    path.write_text(json.dumps(raw), encoding="utf-8")
    return path


def test_the_cost_cluster_is_solved_and_proven(tmp_path: Path) -> None:
    # Perfect repairs and a free proof: a policy is an order of repairs, and all of them are tried.
    prior = {1: 0.35, 2: 0.15, 3: 0.3, 4: 0.2}
    price = {1: 2, 2: 1, 3: 1, 4: 1}
    least = min(_cost(order, prior, price) for order in itertools.permutations(prior))
    found = solve_problem(written(tmp_path, cluster()), 5.0)
    assert found["expected_cost"] == pytest.approx(least)
    assert found["expected_cost"] == pytest.approx(4.85)
    assert found["proven"] is True
    assert found["gap"] == pytest.approx(0.0, abs=1e-6)
    assert found["first"] in ("R1", "R2", "R3", "R4")


def _cost(order: tuple[int, ...], prior: dict[int, float], price: dict[int, int]) -> float:
    left, opened, total = 1.0, False, 0.0
    for one in order:
        total += left * (price[one] + (3 if one > 2 and not opened else 0))
        opened = opened or one > 2
        left -= prior[one]
    return total


def test_a_gap_over_a_bound_of_zero_is_null_and_never_infinity(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from firstpull.bench import solving

    answer = {"first": "a", "expected_cost": 1.0, "lower_bound": 0.0, "gap": float("inf"), "proven": False}
    monkeypatch.setattr(solving, "solve_file", lambda *_: answer)
    found = solve_problem(written(tmp_path, cluster()), 1.0)
    assert found["gap"] is None
    json.dumps(found, allow_nan=False)


def test_a_free_problem_is_answered_in_json(tmp_path: Path) -> None:
    raw = cluster()
    for repair in raw["repairs"]:
        repair["cost"] = 0
    raw["access"][0]["open_cost"] = 0
    found = solve_problem(written(tmp_path, raw), 0.2)
    assert found["expected_cost"] == pytest.approx(0.0, abs=1e-9)
    json.dumps(found, allow_nan=False)


@pytest.mark.parametrize("content", ["", "{", "[]", "null", '{"schema": "other"}', '{"states": 3}'])
def test_a_file_that_is_no_problem_is_refused(tmp_path: Path, content: str) -> None:
    path = tmp_path / "problem.json"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(FirstpullError):
        solve_problem(path, 0.1)
    with pytest.raises(FirstpullError):
        solve_problem(tmp_path / "none.json", 0.1)


def test_many_jobs_are_played_and_nonsense_between_them_is_survived(tmp_path: Path) -> None:
    lines = ["junk", '{"outcome": 0}', '{"new": true}', "{}", '{"outcome": 7}', '{"outcome": 0}', '{"outcome": 1}',
             '{"new": true}']
    out = io.StringIO()
    play_problem(written(tmp_path, cluster()), io.StringIO("\n".join(lines)), out, 0.05)
    replies = [json.loads(line) for line in out.getvalue().splitlines()]
    assert ["error" in r for r in replies] == [True, True, False, True, True, False, False, False]
    assert replies[2]["action"] in ("R1", "R2", "R3", "R4")
    assert replies[5] == {"action": "proof"}
    assert replies[6] == {"done": True}
    assert replies[7] == replies[2]
