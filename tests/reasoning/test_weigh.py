"""Likelihoods of what a check gave: they add up, and complaints speak through the same machines."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.base.errors import InputError
from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN, ComplaintAct, Read, ReadingAct, SilenceAct
from firstpull.reasoning.weigh import Scales, find_reading, word_place
from firstpull.reasoning.worlds import SHARED, Row, Worlds

PLACE = Arrangement(frozenset({"plug-lead"}), frozenset({"control-held", "tester-on-lead"}), "rope")


@pytest.fixture(scope="module")
def scales(mower: Worlds) -> Scales:
    """Scales of a mower."""
    return Scales(mower)


def test_all_things_a_check_can_give_sum_to_one_on_every_machine(scales: Scales) -> None:
    words = [o.id for o in scales.worlds.book.checks["spark-at-tester"].readings[0].outcomes]
    total = np.zeros(scales.worlds.count)
    for word in (*words, NOW_AND_THEN, NOT_POSSIBLE):
        act = ReadingAct("spark-at-tester", (Read(word=word),), PLACE)
        total += scales.reading(act, [(Row(frozenset()), SHARED)])[0]
    assert np.allclose(total, 1.0)


def test_dark_is_likelier_on_a_dead_coil_than_on_a_sound_one(scales: Scales) -> None:
    act = ReadingAct("spark-at-tester", (Read(word="dark"),), PLACE)
    dead, sound = scales.reading(act, [(Row(frozenset({"coil-dead"})), SHARED), (Row(frozenset()), SHARED)])
    assert dead.mean() > 50 * sound.mean()


def test_a_complaint_said_and_not_said_are_the_whole(scales: Scales) -> None:
    row = Row(frozenset({"coil-dead"}))
    said = scales.complaint(ComplaintAct("will-not-start", True), [(row, SHARED)], False)[0]
    unsaid = scales.complaint(ComplaintAct("will-not-start", False), [(row, SHARED)], False)[0]
    assert np.allclose(said + unsaid, 1.0)


def test_silence_speaks_against_what_would_have_been_complained_of(scales: Scales) -> None:
    act = SilenceAct(("will-not-start",))
    machines = [(Row(frozenset({"rope-broken"})), SHARED), (Row(frozenset()), SHARED)]
    broken, sound = scales.silence(act, machines, machines)
    assert broken.mean() < sound.mean()


def test_unknown_words_and_readings_are_refused(scales: Scales) -> None:
    column = scales.columns("spark-at-tester", PLACE)[0]
    with pytest.raises(InputError, match="unknown outcome"):
        word_place(column.ear, "purple")
    with pytest.raises(InputError, match="not a reading"):
        find_reading(scales.worlds.book.checks["spark-at-tester"], "colour")
