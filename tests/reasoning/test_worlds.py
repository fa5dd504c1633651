"""The population: draws named by content, rows shared by what cannot differ, renewals that redraw."""

from __future__ import annotations

import numpy as np

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.worlds import SHARED, Block, Question, Row, Worlds

PLACE = Arrangement(frozenset({"plug-lead"}), frozenset({"control-held", "tester-on-lead"}), "rope")


def test_states_that_a_quantity_cannot_tell_apart_share_one_row(mower: Worlds) -> None:
    healthy = mower.row("tester_margin", PLACE, Row(frozenset()))
    oil = mower.row("tester_margin", PLACE, Row(frozenset({"blade-blunt"})))
    coil = mower.row("tester_margin", PLACE, Row(frozenset({"coil-dead"})))
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
    assert mower.matters("tester_margin", with_guard) == mower.matters("tester_margin", PLACE)


def test_own_draws_of_a_block_stand_in_for_the_shared_ones(mower: Worlds) -> None:
    key = ("healthy", "air_gap_mm", 0)
    block = Block(("mine",), {key: np.full(mower.count, 0.5)})
    assert np.ptp(mower.parameter("air_gap_mm", Row(frozenset()), block)) == 0.0
    assert np.ptp(mower.parameter("air_gap_mm", Row(frozenset()), SHARED)) > 0.0


def test_a_dead_coil_lights_no_tester(mower: Worlds) -> None:
    dead, sound = mower.values(
        Question(PLACE), "tester_margin", [(Row(frozenset({"coil-dead"})), SHARED), (Row(frozenset()), SHARED)]
    )
    assert np.nanmax(dead) < 1.0
    assert np.nanmedian(sound) > 1.0
