"""What must hold of every belief: withdrawn is never said, and a trial repair is evidence like any other."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.reasoning.belief import OTHERS_TAKE
from firstpull.reasoning.weigh import BENCH_HEARS, BENCH_MISHEARS
from tests.reasoning import three_faults
from tests.reasoning.enumeration import Happened, posterior
from tests.reasoning.test_belief import SCALES, apart, complains, folded, jobs, looked, mended, tried
from tests.reasoning.three_faults import TAKES

ROPE, COIL, BOOT, NONE = frozenset({"rope"}), frozenset({"coil"}), frozenset({"boot"}), frozenset[str]()


def exact(job: list[tuple[Any, Happened]]) -> dict[tuple[frozenset[str], frozenset[str]], float]:
    return posterior(three_faults.nature(), [h for _, h in job])


@given(jobs(), st.data())
def test_what_is_withdrawn_was_never_said(job: list[tuple[Any, Happened]], data: st.DataObject) -> None:
    """Also when the whole job was folded before on the same population, which remembers."""
    acts = [a for a, _ in job]
    folded(acts)
    if acts:
        place = data.draw(st.integers(0, len(acts) - 1))
        left = acts[:place] + acts[place + 1 :]
        assert folded(left) == folded(left, three_faults.scales())


@given(st.sampled_from(["shop", "owner"]), st.booleans())
def test_of_two_repairs_at_once_the_order_does_not_matter_and_either_may_have_cured(by: Any, holds: bool) -> None:
    heard = complains("misses")
    rope, coil, after = mended("mend-rope", by), mended("mend-coil", by), tried("misses", holds, 2)
    one, other = [heard, rope, coil, after], [heard, coil, rope, after]
    found = folded([a for a, _ in one])
    assert apart(found, folded([a for a, _ in other])) < 1e-12
    assert apart(found, exact(one)) < 1e-12
    cured = sum(p for (was, left), p in found.items() if was == COIL and left == NONE)
    uncured = sum(p for (was, left), p in found.items() if was == COIL and left == COIL)
    assert (cured > uncured) != holds


@pytest.mark.parametrize("by", ["shop", "owner", "previous"])
def test_a_new_part_that_changed_nothing_speaks_against_its_fault_by_what_the_hand_is_trusted_with(by: Any) -> None:
    """Bench trial after the coil was mended: odds of the coil against a sound machine, in closed form."""
    job = [mended("mend-coil", by), tried("misses", True, 1)]
    found = folded([a for a, _ in job])
    odds = three_faults.states()[COIL]
    takes = TAKES["mend-coil"] * (1.0 if by == "shop" else OTHERS_TAKE)

    def said(there: float) -> float:
        return BENCH_HEARS * there + BENCH_MISHEARS * (1 - there)

    silent, there = (three_faults.event("coil", faults) for faults in (NONE, COIL))
    still = three_faults.DUTY * said(there) + (1 - three_faults.DUTY) * said(silent)
    ratio = odds * (takes * said(silent) + (1 - takes) * still) / said(silent)
    here = sum(p for (was, _), p in found.items() if was == COIL)
    assert here / found[NONE, NONE] == pytest.approx(ratio, rel=1e-12)


@given(st.integers(1, 6))
def test_each_try_in_which_it_would_not_fail_counts_its_share_of_sleep(tries: int) -> None:
    """Forty minutes without a miss are so many coins that all came up asleep."""
    job = [looked("coil", "good", episode) for episode in range(1, tries + 1)]
    found = folded([a for a, _ in job])
    awake, asleep = (three_faults.word("coil", "good", s) for s in (COIL, NONE))
    share = (three_faults.DUTY * awake + (1 - three_faults.DUTY) * asleep) / asleep
    expected = three_faults.states()[COIL] * share**tries
    assert found[COIL, COIL] / found[NONE, NONE] == pytest.approx(expected, rel=1e-11)
    assert apart(found, exact(job)) < 1e-12


@given(st.lists(st.booleans(), min_size=1, max_size=5))
def test_what_shows_only_hot_is_told_by_hot_looks_alone(hot: list[bool]) -> None:
    job = [looked("boot", "bad", episode, warm) for episode, warm in enumerate(hot, start=1)]
    found = folded([a for a, _ in job])
    there, sound = (three_faults.word("boot", "bad", s) for s in (BOOT, NONE))
    expected = math.log(three_faults.states()[BOOT]) + sum(hot) * math.log(there / sound)
    assert math.log(found[BOOT, BOOT] / found[NONE, NONE]) == pytest.approx(expected, abs=1e-10)


def test_the_population_of_these_tests_remembers_walks() -> None:
    folded([looked("rope", "bad", 1)[0]])
    assert SCALES.walks
