"""The fixed chart keeps its order whatever is read, and ends like any job."""

from __future__ import annotations

import pytest

from firstpull.engine.vocabulary.types import Conditions
from firstpull.practice.arrivals import arrive
from firstpull.practice.chart import ChartGame, GainGame
from firstpull.practice.playing import Score
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.worlds import Worlds


def played(mower: Worlds, fault: str, most: float = 400.0) -> Score:
    came = arrive(mower.book, fault, 11)
    return ChartGame(Worlds(mower.book, Conditions(), count=64), came.machine, came.complaint).play(most)


def checks(score: Score) -> list[str]:
    return [s for s in score.steps if s.startswith("check:")]


@pytest.fixture(scope="module")
def dead(mower: Worlds) -> Score:
    return played(mower, "coil-dead")


def test_two_machines_with_one_complaint_are_read_in_the_same_order(mower: Worlds, dead: Score) -> None:
    other = played(mower, "stop-lead-chafed", 25.0)
    both = min(len(checks(dead)), len(checks(other)))
    assert both >= 3
    assert checks(dead)[:both] == checks(other)[:both]


def test_a_chart_is_left_when_its_minutes_are_up(mower: Worlds) -> None:
    assert played(mower, "coil-dead", 8.0).ended == "too many steps"


def test_repairs_are_proved_before_anything_else_is_read(dead: Score) -> None:
    for step, after in zip(dead.steps, dead.steps[1:], strict=False):
        assert not step.startswith("repair:") or after.startswith("proof:")
    assert dead.unsafe == []
    assert len(checks(dead)) < len(dead.steps)


def test_who_goes_by_information_changes_the_order_with_what_was_read(mower: Worlds, dead: Score) -> None:
    few = Worlds(mower.book, Conditions(), count=64)
    came = arrive(mower.book, "coil-dead", 11)
    gain = GainGame(few, came.machine, came.complaint).play(400.0)
    assert gain.unsafe == []
    assert gain.ended == "released"
    assert checks(gain)[0] == checks(dead)[0]
    assert checks(gain) != checks(dead)
    assert gain.minutes < dead.minutes


def test_who_is_content_with_less_repairs_sooner(mower: Worlds, dead: Score) -> None:
    few = Worlds(mower.book, Conditions(), count=64)
    came = arrive(mower.book, "coil-dead", 11)
    hasty = ChartGame(few, came.machine, came.complaint, sure=0.3).play(400.0)
    first = [[s.startswith("repair:") for s in score.steps].index(True) for score in (hasty, dead)]
    assert first[0] <= first[1]


@pytest.mark.parametrize("way", [ChartGame, GainGame])
def test_a_dear_part_wants_proof_also_of_who_is_content_with_less(mower: Worlds, way: type[ChartGame]) -> None:
    few = Worlds(mower.book, Conditions(), count=64)
    came = arrive(mower.book, "coil-dead", 11)
    game = way(few, came.machine, came.complaint, Prices(proof_price=1.0), sure=0.3)
    dear = {r.id for r in mower.book.repairs.values() if sum(p.usual for p in r.parts) > 1.0}
    cheap = next(r for r in mower.book.repairs if r not in dear)
    assert {game._enough(r) for r in dear} == {Prices().proof_share}
    assert game._enough(cheap) == 0.3
