"""Regenerated variants: more of them carry the weight, and the answer is the exact one but for a little luck."""

from __future__ import annotations

import numpy as np

from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.believe import believe
from firstpull.reasoning.hearing import SLIP_POSSIBLE
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from tests.acceptance.played import HELD, at_tester, session
from tests.reasoning import dense_grid
from tests.reasoning.handbook import measured

STEPS = [HELD, at_tester("lights", "rope"), {"check": "coil-gap", "reading": "0.36 mm"},
         {"check": "compression-dry", "reading": "620 kPa"}, {"check": "plug-gap-by-feeler", "reading": "0.70 mm"}]
VARIANTS = 256  # as the settled answer has it unless more effort is asked for


def apart(seed: int, readings: int, settle: bool = True) -> float:
    """Total variation between the belief and the exact answer, over the states that the belief has opened."""
    _, acts = dense_grid.job(seed, readings)
    belief = believe(dense_grid.scales(VARIANTS), acts, settle=settle)
    exact = np.array([t.log_prior for t in belief.threads])
    exact += dense_grid.log_evidence([t.original for t in belief.threads], acts)
    exact = np.exp(exact - exact.max())
    return float(0.5 * np.abs(belief.probability / belief.probability.sum() - exact / exact.sum()).sum())


def test_the_settled_answer_is_within_a_hundredth_of_a_dense_grid() -> None:
    found = [apart(seed, readings) for seed in range(20) for readings in (2, 4, 8, 12)]
    assert np.mean(found) <= 0.01
    assert np.quantile(found, 0.9) <= 0.025


def test_without_regenerating_it_would_be_far_from_the_dense_grid() -> None:
    assert np.mean([apart(seed, 12, settle=False) for seed in range(6)]) > 0.1


def test_the_dense_grid_is_dense_enough() -> None:
    """One reading of one number with a gauge of its own, in closed form but for the slips."""
    scatter, sd, read = 0.35, 1.0, 0.7
    name = next(g.name for g in dense_grid.GAUGES
                if (g.number, g.scatter, g.shared) == ("key_offset_deg", scatter, False))
    found = dense_grid.log_evidence([frozenset()], [measured(name, read)])[0]
    spread = np.hypot(scatter, sd)
    density = np.exp(-0.5 * (read / spread) ** 2) / (spread * np.sqrt(2 * np.pi)) * 4.0
    chance = (1 - SLIP_POSSIBLE) * ((1 - dense_grid.BLUNDER) * density + dense_grid.BLUNDER)
    assert abs(found - np.log(chance)) < 1e-6


def test_the_settled_answer_agrees_with_many_more_variants(room: WorldRoom) -> None:
    job = session(room, STEPS)
    many = Worlds(job.book, Conditions(0.0, 20.0), 0, 1024)
    few = Worlds(job.book, Conditions(0.0, 20.0), 0, 256)
    wide = believe(Scales(many), job.acts).fault_probability
    settled = believe(Scales(few), job.acts).fault_probability
    assert 0.5 * sum(abs(wide[f] - settled[f]) for f in wide) < 0.03


def test_more_variants_carry_the_weight_after_regenerating(room: WorldRoom) -> None:
    job = session(room, STEPS)
    few = Worlds(job.book, Conditions(0.0, 20.0), 0, 256)
    worn = believe(Scales(few), job.acts, settle=False)
    settled = believe(Scales(few), job.acts)
    assert settled.least_effective >= worn.least_effective
    assert np.isfinite(settled.least_effective)
