"""Chances of a start."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.engine.starting import (
    expected_pulls,
    mixture_chance,
    pressed_enough,
    spark_chance,
    timing_chance,
    warmed_enough,
    within,
)

FloatArray = NDArray[np.float64]
CHANCES = st.floats(0.0, 1.0)


def _one(value: float) -> FloatArray:
    return np.array([value])


def test_a_spark_with_just_the_voltage_asked_comes_every_other_time() -> None:
    assert spark_chance(_one(1.0))[0] == pytest.approx(0.5)
    assert spark_chance(_one(1.4))[0] > 0.99
    assert spark_chance(_one(0.6))[0] < 0.01


def test_too_lean_and_too_rich_do_not_burn() -> None:
    lean, right, rich = mixture_chance(np.array([0.4, 1.2, 4.0]), 0.65, 3.2)
    assert right > 0.999
    assert max(lean, rich) < 0.01


def test_sparks_far_early_or_late_do_not_start_it() -> None:
    early, right, late = timing_chance(np.array([70.0, 24.0, -25.0]))
    assert right > 0.99
    assert max(early, late) < 0.01


@given(peak=st.floats(100.0, 2000.0), more=st.floats(0.0, 500.0))
def test_more_compression_never_lowers_the_chance(peak: float, more: float) -> None:
    assert pressed_enough(_one(peak + more), 310.0) >= pressed_enough(_one(peak), 310.0)


@given(end=st.floats(250.0, 700.0), more=st.floats(0.0, 200.0))
def test_a_warmer_charge_never_lowers_the_chance(end: float, more: float) -> None:
    assert warmed_enough(_one(end + more)) >= warmed_enough(_one(end))


def test_droplets_stay_droplets_below_the_boiling_middle_of_petrol() -> None:
    assert warmed_enough(_one(373.0))[0] < 0.01
    assert warmed_enough(_one(440.0))[0] > 0.99


@given(chance=CHANCES, pulls=st.integers(1, 20))
def test_more_pulls_never_lower_the_chance(chance: float, pulls: int) -> None:
    fewer, more = within(_one(chance), pulls)[0], within(_one(chance), pulls + 1)[0]
    assert 0.0 <= fewer <= more <= 1.0


def test_five_pulls_at_an_even_chance_fail_once_in_thirty_two() -> None:
    assert within(_one(0.5), 5.0)[0] == pytest.approx(31.0 / 32.0)


@given(chance=st.floats(0.01, 1.0), most=st.integers(1, 40))
def test_expected_pulls_are_the_mean_of_trying_one_after_the_other(chance: float, most: int) -> None:
    # Mean of min(first success, most): the sum over k of the chance that k pulls were not enough.
    by_hand = sum((1.0 - chance) ** k for k in range(most))
    assert expected_pulls(_one(chance), most)[0] == pytest.approx(by_hand, rel=1e-9)


def test_a_hopeless_machine_takes_all_the_pulls_one_gives_it() -> None:
    assert expected_pulls(_one(0.0), 20.0)[0] == pytest.approx(20.0, rel=1e-6)
