"""The whole belief: it sums to one, opens pairs when something fits badly, and says what it leaves out."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.believe import believe, effective
from tests.acceptance.played import HELD, LEAD_OFF, at_tester, session


def test_everything_together_is_certain(room: WorldRoom) -> None:
    belief = session(room, [HELD, at_tester("dark", "rope")]).belief()
    assert belief.probability.sum() + belief.outside == pytest.approx(1.0)
    assert sum(p for _, p in belief.suspects) + belief.outside == pytest.approx(1.0)
    assert 0.0 <= belief.unopened <= 1.0


def test_the_same_acts_give_the_same_belief(room: WorldRoom) -> None:
    steps = [HELD, at_tester("dark", "rope"), LEAD_OFF, at_tester("lights", "drill")]
    one, two = (session(room, steps).belief().fault_probability for _ in range(2))
    assert np.allclose(list(one.values()), list(two.values()), atol=1e-12)


def test_a_first_answer_differs_from_the_settled_one_only_by_sampling(room: WorldRoom) -> None:
    job = session(room, [HELD, at_tester("dark", "rope")])
    first = believe(job.scales, job.acts, settle=False).fault_probability
    settled = believe(job.scales, job.acts).fault_probability
    assert max(abs(first[f] - settled[f]) for f in first) < 0.05


def test_a_repair_that_did_not_help_opens_pairs(room: WorldRoom) -> None:
    before = session(room, [HELD, at_tester("lights", "rope")])
    tried = session(room, [HELD, at_tester("lights", "rope"), {"repair": "renew-plug", "by": "owner"}])
    assert max(len(t.original) for t in tried.belief().threads) >= 2
    assert len(tried.belief().threads) > len(before.belief().threads)


def test_repairs_count_what_they_would_cure_now(room: WorldRoom) -> None:
    belief = session(room, [HELD, at_tester("dark", "rope")]).belief()
    coil = belief.walk.book.repairs["renew-coil"]
    least = max(belief.fault_probability.get(f, 0.0) for f in coil.cures)
    assert least <= belief.repair_probability["renew-coil"] <= 1.0


def test_even_weights_are_all_effective_and_one_weight_is_one() -> None:
    assert effective(np.zeros(50)) == pytest.approx(50.0)
    assert effective(np.where(np.arange(50) == 3, 0.0, -800.0)) == pytest.approx(1.0)
