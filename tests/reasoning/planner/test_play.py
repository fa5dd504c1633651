"""The line protocol, played by somebody else's simulator and by somebody who types badly."""

from __future__ import annotations

import io
import json
import time

import numpy as np
import pytest

from firstpull.reasoning.planner.play import Player, play
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.solve import solve
from tests.reasoning.planner.made_up import made_up
from tests.reasoning.planner.simulator import Workshop
from tests.reasoning.planner.worked import overlapping_repairs, shared_cover


@pytest.mark.parametrize(("seed", "perfect"), [(3, True), (8, True), (5, False), (9, False)])
def test_played_jobs_cost_what_the_solver_says(seed: int, perfect: bool) -> None:
    form = made_up(seed, faults=4 if perfect else 3, checks=3 if perfect else 2, perfect=perfect)
    problem = problem_from(form)
    found = solve(problem, 10.0)
    player, workshop = Player(problem, 0.05), Workshop(form, seed=11)

    def answer(line: dict[str, object]) -> dict[str, object]:
        return player.answer(json.dumps(line))

    for _ in range(20):  # the first jobs warm the search up; what follows is the settled policy
        workshop.job(answer)
    costs = np.array([workshop.job(answer) for _ in range(1500)])
    error = float(costs.std(ddof=1)) / np.sqrt(len(costs))
    assert found["proven"] is True
    assert abs(float(costs.mean()) - float(found["expected_cost"])) < 4.5 * error + 1e-9


def _played(lines: list[str], seconds: float = 0.05) -> list[dict[str, object]]:
    out = io.StringIO()
    play(io.StringIO("".join(line + "\n" for line in lines)), out, problem_from(shared_cover()), seconds)
    return [json.loads(line) for line in out.getvalue().splitlines()]


def test_a_job_runs_to_the_passed_proof() -> None:
    said = _played(['{"new": true}', '{"outcome": 0}', '{"outcome": 1}', '{"new": true}'])
    assert said == [{"action": "R1"}, {"action": "proof"}, {"done": True}, {"action": "R1"}]


def test_bad_lines_are_answered_and_the_job_goes_on() -> None:
    bad = ["", "nonsense", "[]", "{}", '{"outcome": "0"}', '{"outcome": true}', '{"outcome": 7}', '{"outcome": -1}']
    bad += ['{"outcome": 0.5}', "[" * 100_000, '{"new": false}', "null", "NaN", '{"outcome": 1e400}']
    said = _played(['{"outcome": 0}', '{"new": true}', *bad, '{"outcome": 0}'])
    assert "error" in said[0]
    assert said[1] == {"action": "R1"}
    assert all(set(line) == {"error"} for line in said[2:-1])
    assert said[-1] == {"action": "proof"}


def test_an_outcome_of_probability_zero_is_survived() -> None:
    problem = problem_from(overlapping_repairs())
    player = Player(problem, 0.05)
    said = player.answer('{"new": true}')
    steps = 0
    while "done" not in said:  # the proof never passes, although every fault has been repaired
        assert "action" in said
        said = player.answer('{"outcome": 0}')
        steps += 1
        assert steps < 100
    assert "action" in player.answer('{"new": true}')


def test_every_answer_keeps_its_time() -> None:
    problem = problem_from(made_up(4, faults=8, checks=9, items=3))
    player = Player(problem, 0.05)
    slowest = 0.0
    for _ in range(5):
        said = player.answer('{"new": true}')
        while "done" not in said:
            before = time.perf_counter()
            said = player.answer('{"outcome": 0}' if said.get("action") != "proof" else '{"outcome": 1}')
            slowest = max(slowest, time.perf_counter() - before)
    assert slowest < 0.25  # five times the bound, for a busy machine


def test_bytes_that_are_no_text_are_answered() -> None:
    source = io.TextIOWrapper(io.BytesIO(b'\xff\xfe{"new"\n{"new": true}\n'), encoding="utf-8")
    out = io.StringIO()
    play(source, out, problem_from(shared_cover()), 0.05)
    said = [json.loads(line) for line in out.getvalue().splitlines()]
    assert "error" in said[0]
    assert said[1] == {"action": "R1"}
