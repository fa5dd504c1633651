"""A hidden machine played to its end as the adviser says."""

from __future__ import annotations

import pytest

from firstpull.engine.vocabulary.types import Conditions
from firstpull.practice.hidden import HiddenMachine
from firstpull.practice.playing import MOST_STEPS, Game, Score
from firstpull.reasoning.worlds import Worlds


def hidden(mower: Worlds, fault: str, seed: int) -> HiddenMachine:
    return HiddenMachine(Worlds(mower.book, Conditions(100.0, 18.0), seed=seed, count=1), frozenset({fault}), seed)


@pytest.fixture(scope="module")
def score(mower: Worlds) -> Score:
    """A broken rope, played once."""
    few = Worlds(mower.book, Conditions(), count=64)
    return Game(few, hidden(mower, "rope-broken", 77), "rope-broke", depth=1).play()


def test_a_job_ends(score: Score) -> None:
    assert 0 < len(score.steps) <= MOST_STEPS
    assert score.ended in ("released", "given up")


def test_nothing_unsafe_is_ever_proposed(score: Score) -> None:
    assert score.unsafe == []


def test_a_machine_that_is_released_had_its_complaint_tried(score: Score) -> None:
    assert score.released is (score.ended == "released")
    worked = max((i for i, s in enumerate(score.steps) if s.startswith("repair")), default=-1)
    assert not score.released or "proof:proof" in score.steps[worked + 1 :]


def test_minutes_are_counted_and_money_only_for_parts(score: Score, mower: Worlds) -> None:
    repairs = [s.removeprefix("repair:") for s in score.steps if s.startswith("repair:")]
    parts = sum(p.usual for r in repairs for p in mower.book.repairs[r].parts)
    assert score.minutes > 0
    assert score.money == pytest.approx(parts)


def test_found_and_proven_needs_a_cure_a_release_and_no_part_bought_in_vain() -> None:
    good = Score(cured=True, released=True)
    assert good.found_and_proven
    assert not Score(cured=True, released=True, wrong_dear_parts=1).found_and_proven
    assert not Score(cured=True, released=True, unproven_dear_parts=1).found_and_proven
    assert not Score(cured=True, released=True, unsafe=["x"]).found_and_proven
    assert not Score(cured=False, released=True).found_and_proven
