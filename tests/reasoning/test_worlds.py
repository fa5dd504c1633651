"""The population: draws named by content, rows shared by what cannot differ, renewals that redraw."""

from __future__ import annotations

import numpy as np

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.worlds import SHARED, Ask, Block, Question, Row, Worlds

PLACE = Arrangement(frozenset({"plug-lead"}), frozenset({"control-held", "tester-on-lead"}), "rope")


def test_states_that_a_quantity_cannot_tell_apart_share_one_row(mower: Worlds) -> None:
    touch = mower.touch("tester_margin", PLACE)
    healthy = touch.row(Row(frozenset()))
    oil = touch.row(Row(frozenset({"blade-blunt"})))
    coil = touch.row(Row(frozenset({"coil-dead"})))
    assert healthy == oil
    assert healthy != coil


def test_draws_do_not_depend_on_what_was_asked_before(mower: Worlds) -> None:
    fresh = Worlds(mower.book, mower.conditions, mower.seed, mower.count)
    fresh.parameter("magnet_strength", Row(frozenset({"magnet-weak"})))
    one = fresh.parameter("air_gap_mm", Row(frozenset()))
    assert np.array_equal(one, mower.parameter("air_gap_mm", Row(frozenset())))


def test_a_renewed_parameter_is_drawn_anew_and_the_rest_stays(mower: Worlds) -> None:
    row, renewed = Row(frozenset()), Row(frozenset(), frozenset({("air_gap_mm", 1)}))
    assert not np.array_equal(mower.parameter("air_gap_mm", row), mower.parameter("air_gap_mm", renewed))
    assert np.array_equal(mower.parameter("magnet_strength", row), mower.parameter("magnet_strength", renewed))


def test_values_stay_within_the_bounds_of_the_vocabulary(mower: Worlds) -> None:
    from firstpull.engine.vocabulary import PARAMETERS

    for fault in mower.book.faults:
        for parameter in mower.touched(fault):
            values = mower.parameter(parameter, Row(frozenset({fault})))
            assert np.all((values >= PARAMETERS[parameter].low) & (values <= PARAMETERS[parameter].high))


def test_arrangements_that_differ_in_nothing_that_matters_are_one(mower: Worlds) -> None:
    with_guard = Arrangement(PLACE.off | {"guard"}, PLACE.added, PLACE.drive)
    assert mower.touch("tester_margin", with_guard).place == mower.touch("tester_margin", PLACE).place


def test_own_draws_of_a_block_stand_in_for_the_shared_ones(mower: Worlds) -> None:
    key = ("healthy", "air_gap_mm", 0)
    block = Block({key: np.full(mower.count, 0.5)})
    assert np.ptp(mower.parameter("air_gap_mm", Row(frozenset()), block)) == 0.0
    assert np.ptp(mower.parameter("air_gap_mm", Row(frozenset()), SHARED)) > 0.0


def test_what_is_predicted_of_own_draws_goes_with_them(mower: Worlds) -> None:
    block = Block({("healthy", "air_gap_mm", 0): np.full(mower.count, 0.5)})
    before = mower.size
    asked = mower.values(Question(PLACE), "tester_margin", [(Row(frozenset()), SHARED), (Row(frozenset()), block)])
    after = mower.size
    again = mower.values(Question(PLACE), "tester_margin", [(Row(frozenset()), SHARED), (Row(frozenset()), block)])
    assert after - before <= 1
    assert all(one is two for one, two in zip(asked, again, strict=True))
    assert asked[1] is not asked[0]
    assert sum(map(len, block.predicted.values())) == 1


def test_what_few_jobs_ask_for_is_let_go_and_comes_back_the_same(mower: Worlds) -> None:
    worlds = Worlds(mower.book, mower.conditions, mower.seed, 32)
    alone, both = Row(frozenset({"coil-dead"})), Row(frozenset({"coil-dead", "magnet-weak"}))
    machines = [(alone, SHARED), (both, SHARED)]
    before = worlds.values(Question(PLACE), "tester_margin", machines)
    size = worlds.size
    worlds.forget_rare()
    assert all(len(row.faults) <= 1 and not row.renewed for kept in worlds.predicted.values() for row in kept)
    assert worlds.size < size
    after = worlds.values(Question(PLACE), "tester_margin", machines)
    assert after[0] is before[0]
    assert np.array_equal(after[1], before[1], equal_nan=True)


def test_questions_asked_together_are_answered_as_when_asked_alone(mower: Worlds) -> None:
    """What places have in common is worked out once; that must not change a number."""
    machines = [(Row(frozenset(f)), SHARED) for f in ([], ["coil-dead"], ["magnet-weak"])]
    hot = Arrangement(frozenset(), frozenset({"control-held", "outdoors"}), "rope", "hot")
    asks = [Ask(Question(PLACE), ("tester_margin",), machines), Ask(Question(hot), ("start_chance",), machines),
            Ask(Question(hot), ("plug_spark_margin", "tester_margin"), machines[1:])]
    together = Worlds(mower.book, mower.conditions, mower.seed, 32)
    together.prepare(asks)
    for ask in asks:
        for quantity in ask.quantities:
            for one in ask.machines:
                alone = Worlds(mower.book, mower.conditions, mower.seed, 32)
                mine, other = (w.values(ask.question, quantity, [one])[0] for w in (together, alone))
                assert np.array_equal(mine, other, equal_nan=True)


def test_a_dead_coil_lights_no_tester(mower: Worlds) -> None:
    dead, sound = mower.values(
        Question(PLACE), "tester_margin", [(Row(frozenset({"coil-dead"})), SHARED), (Row(frozenset()), SHARED)]
    )
    assert np.nanmax(dead) < 1.0
    assert np.nanmedian(sound) > 1.0
