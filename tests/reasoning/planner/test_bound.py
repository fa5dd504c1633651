"""The information bound never lies above what some policy achieves."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.search import Search
from tests.reasoning.planner.made_up import made_up
from tests.reasoning.planner.worked import isolate_six_states


def _bounds(search: Search) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    nodes = search.nodes()
    places = sorted({node.access for node in nodes})
    low, _ = search.bound.low(
        np.array([node.belief for node in nodes]),
        [search.model.at(a) for a in places],
        np.array([places.index(node.access) for node in nodes]),
        np.array([[0.0 if n.used & bit else 1.0 for bit in search.model.once_bits] for n in nodes]),
    )
    known = np.array([search.model.at(n.access).known @ n.belief for n in nodes])
    return low, known, np.array([node.high for node in nodes])


@pytest.mark.parametrize("seed", range(30))
@pytest.mark.parametrize("perfect", [True, False])
def test_it_stays_below_what_is_achieved_in_every_state_met(seed: int, perfect: bool) -> None:
    problem = problem_from(made_up(100 + seed, faults=5 if perfect else 3, checks=4, items=2, perfect=perfect))
    search = Search(Model(problem))
    search.run(search.node(problem.prior, problem.initially, 0), 0.5)
    low, known, high = _bounds(search)
    assert len(low) > 0
    assert np.all(low <= high * (1 + 1e-8) + 1e-8)  # equal beliefs are shared to nine digits
    assert np.all(low >= known - 1e-9)


def test_it_says_more_than_the_known_state_cost() -> None:
    problem = isolate_six_states()
    search = Search(Model(problem))
    root = search.node(problem.prior, 0, 0)
    assert 1.0 < root.low <= 2.18
    assert float(search.model.at(0).known @ problem.prior) == 0.0
