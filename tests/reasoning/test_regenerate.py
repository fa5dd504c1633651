"""Regenerated variants: more of them carry the weight, and the answer stays what many variants would give."""

from __future__ import annotations

import numpy as np

from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.believe import believe
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from tests.acceptance.played import HELD, at_tester, session

STEPS = [HELD, at_tester("lights", "rope"), {"check": "coil-gap", "reading": "0.36 mm"},
         {"check": "compression-dry", "reading": "620 kPa"}, {"check": "plug-gap-by-feeler", "reading": "0.70 mm"}]


def test_the_settled_answer_agrees_with_many_more_variants(room: WorldRoom) -> None:
    job = session(room, STEPS)
    many = Worlds(job.book, Conditions(0.0, 20.0), 0, 1024)
    few = Worlds(job.book, Conditions(0.0, 20.0), 0, 256)
    wide = believe(Scales(many), job.acts).fault_probability
    settled = believe(Scales(few), job.acts).fault_probability
    assert 0.5 * sum(abs(wide[f] - settled[f]) for f in wide) < 0.06


def test_more_variants_carry_the_weight_after_regenerating(room: WorldRoom) -> None:
    job = session(room, STEPS)
    few = Worlds(job.book, Conditions(0.0, 20.0), 0, 256)
    worn = believe(Scales(few), job.acts, settle=False)
    settled = believe(Scales(few.for_job()), job.acts)
    assert settled.least_effective >= worn.least_effective
    assert np.isfinite(settled.least_effective)
