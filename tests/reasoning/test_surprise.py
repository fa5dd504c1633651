"""How odd readings are: the share of jobs as odd is even over jobs of the model, and small where nothing fits."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy import stats

from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.acts import Act, Read, ReadingAct, RepairAct
from firstpull.reasoning.believe import Belief, believe
from firstpull.reasoning.surprise import surprise
from tests.acceptance.played import HELD, at_tester, session
from tests.reasoning import dense_grid, three_faults
from tests.reasoning.handbook import measured, said

READINGS = 8
SCALES = dense_grid.scales(256)
# Numbers that no fault of the made-up handbook explains, beside each other.
FOREIGN = {"key_offset_deg": -6.0, "trigger_error_deg": 15.0, "module_opens_c": 145.0}
LEVEL = 0.05


def belief_of(acts: list[ReadingAct]) -> Belief:
    return believe(SCALES, acts, settle=False)


def of_the_model(jobs: int) -> list[float]:
    return [surprise(belief_of(dense_grid.job(seed, READINGS)[1])).p_value for seed in range(jobs)]


def with_numbers(seed: int, true: dict[str, float]) -> Belief:
    deal = np.random.default_rng(seed)
    gauges = [dense_grid.GAUGES[deal.integers(len(dense_grid.GAUGES))] for _ in range(READINGS)]
    return belief_of(dense_grid.read_on(true, deal, gauges))


def test_on_jobs_of_the_model_every_surprise_is_as_frequent() -> None:
    found = of_the_model(100)
    assert stats.kstest(found, "uniform").pvalue > 0.01
    assert np.mean(np.array(found) < LEVEL) < 0.12


def test_a_fault_that_the_handbook_does_not_know_is_flagged_and_counted_as_such() -> None:
    foreign = [with_numbers(seed, FOREIGN) for seed in range(12)]
    flagged = np.mean([surprise(b).p_value < LEVEL for b in foreign])
    assert flagged > 0.8
    assert np.mean([b.outside for b in foreign]) > 0.8
    own = [belief_of(dense_grid.job(seed, READINGS)[1]).outside for seed in range(30)]
    assert np.median(own) < 0.1


def test_two_faults_at_once_are_suspected_together_far_more_often_than_one_alone() -> None:
    both, seeds = frozenset({"c", "e"}), range(20)

    def share(belief: Belief) -> float:
        return sum(float(p) for t, p in zip(belief.threads, belief.probability, strict=True) if t.original == both)

    pairs = [share(belief_of(dense_grid.job(seed, READINGS, both)[1])) for seed in seeds]
    alone = [share(belief_of(dense_grid.job(seed, READINGS, frozenset({"c"}))[1])) for seed in seeds]
    assert np.mean(pairs) > 3 * np.mean(alone)


def test_three_faults_at_once_are_more_than_the_states_hold_and_are_flagged_more_often() -> None:
    seeds = range(20)
    one = [surprise(belief_of(dense_grid.job(seed, READINGS, frozenset({"c"}))[1])).p_value for seed in seeds]
    shifts = {"key_offset_deg": 3.0, "trigger_error_deg": 13.0, "module_opens_c": 146.5}
    three = [surprise(with_numbers(seed, shifts)).p_value for seed in seeds]
    assert np.mean(np.array(three) < LEVEL) > np.mean(np.array(one) < LEVEL)
    assert np.median(three) < 0.5 * np.median(one)


def test_a_planted_slip_is_the_odd_one() -> None:
    """Five looks at one number agree and one does not, wherever among them it stands."""
    gauge = next(g for g in dense_grid.GAUGES if g.number == "key_offset_deg" and not g.shared)
    hits = 0
    for seed in range(30):
        deal = np.random.default_rng(seed)
        acts = [measured(gauge.name, float(deal.normal(0.5, gauge.scatter)), episode=i + 1) for i in range(6)]
        place = int(deal.integers(6))
        acts[place] = replace(acts[place], reads=(Read(number=4.5),))
        hits += surprise(belief_of(acts)).odd_one == place
    assert hits >= 27


def test_a_slip_of_the_eye_is_no_surprise_on_a_fault_that_comes_and_goes() -> None:
    """Good and bad in two episodes contradict each other on what always shows, not on what sleeps at times."""
    scales = three_faults.scales(count=8)

    def both(name: str) -> float:
        acts: list[Act] = [said(f"see-{name}", w, e) for e, w in enumerate(("bad", "good", "bad", "good"), start=1)]
        return surprise(believe(scales, acts, settle=False)).p_value

    assert both("rope") < both("coil")


def test_no_readings_are_no_surprise(room: WorldRoom) -> None:
    found = surprise(session(room, []).belief())
    assert (found.p_value, found.odd_one) == (1.0, None)


def test_an_ordinary_job_is_no_surprise(room: WorldRoom) -> None:
    steps = [HELD, at_tester("lights", "rope"), {"check": "magnet-pull", "reading": "strong"}]
    found = surprise(session(room, steps).belief())
    assert found.p_value > 0.1


def test_readings_that_fit_nothing_are_a_surprise_and_one_of_them_is_named(room: WorldRoom) -> None:
    steps = [HELD, at_tester("lights", "rope"), {"check": "magnet-pull", "reading": "weak"},
             {"check": "coil-gap", "reading": "1.1 mm"},
             {"check": "coil-rub-look", "reading": _bad(room, "coil-rub-look")}]
    belief = session(room, steps).belief()
    found = surprise(belief)
    assert found.p_value < 0.05
    assert found.odd_one is not None
    assert isinstance(belief.acts[found.odd_one], ReadingAct)


def test_a_repair_between_two_readings_makes_them_agree() -> None:
    """Bad before and good after the mend is no contradiction; bad and good with nothing done is one."""
    scales = three_faults.scales(count=8)
    bad, good = said("see-rope", "bad", 1), said("see-rope", "good", 2)
    between = surprise(believe(scales, [bad, RepairAct("mend-rope"), good], settle=False)).p_value
    without = surprise(believe(scales, [bad, good], settle=False)).p_value
    assert between > 2 * without


def _bad(room: WorldRoom, check: str) -> str:
    return room.book.checks[check].readings[0].outcomes[-1].id
