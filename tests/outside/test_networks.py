"""Planning problems drawn from published networks, proven and decided well."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmarks.planner.exact import policy_cost
from benchmarks.planner.run import fresh
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.search import Search
from tests.outside import networks

pytest.importorskip("pyagrum", reason="the network library is a test-only dependency")
ROUNDS = 120  # of search before each decision: some milliseconds
# Those that are quick to prove; docs/planner.md has the figures of all.
CHOSEN = [t for t in networks.TROUBLES if t[1] in ("Problem1", "Problem3", "Problem4", "Problem6")]


def model_of(trouble: tuple[str, str, int, int], folder: Path) -> Model:
    name, node, shows, seed = trouble
    return Model(problem_from(networks.problem(networks.network(name, folder), node, shows, seed)))


def test_four_printer_troubles_are_solved_to_a_proof_and_decided_within_two_in_a_hundred(tmp_path: Path) -> None:
    ratios = []
    for trouble in CHOSEN:
        model = model_of(trouble, tmp_path)
        search = Search(model)
        root = search.node(model.problem.prior, model.problem.initially, 0)
        search.run(root, rounds=20_000)
        assert root.gap <= 1e-6 * root.low
        cost = policy_cost(model, fresh(Decider(model), ROUNDS, []))
        assert cost >= root.low * (1 - 1e-9)
        ratios.append(cost / root.high)
    assert sum(ratios) / len(ratios) <= 1.02


@pytest.mark.parametrize("trouble", networks.TROUBLES, ids=[t[1] for t in networks.TROUBLES])
def test_a_problem_asks_for_causes_that_explain_the_trouble(trouble: tuple[str, str, int, int], tmp_path: Path) -> None:
    problem = model_of(trouble, tmp_path).problem
    assert len(problem.prior) == networks.CAUSES + 1
    assert problem.prior[problem.healthy] == 0.0
    assert len(problem.check_cost) == networks.CHECKS
    assert problem.likelihood.sum(axis=1) == pytest.approx(1.0)
