"""Kick-back."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine import kickback
from tests.engine.cylinders import MOWER

FloatArray = NDArray[np.float64]


def work(spark: FloatArray, pressure: float = 5e5, steps: int = 12) -> FloatArray:
    same = np.ones_like(spark)
    return kickback.burn_work_before_top(
        MOWER, same * 2.13e-5, spark, same * pressure, same * 450.0, same * 36.0, same * 2.6e6, same * 101325.0, steps
    )


def test_an_earlier_spark_takes_more_from_the_crank() -> None:
    taken = work(np.array([5.0, 15.0, 25.0, 35.0, 45.0]))
    assert (np.diff(taken) > 0.0).all()


def test_a_spark_after_top_takes_nothing() -> None:
    assert work(np.array([-10.0, 0.0])).tolist() == [0.0, 0.0]


def test_a_fuller_charge_takes_more() -> None:
    assert work(np.array([25.0]), 9e5)[0] > work(np.array([25.0]), 4e5)[0]


@pytest.mark.parametrize("spark", [15.0, 25.0, 45.0])
def test_twelve_steps_are_within_three_percent_of_four_hundred(spark: float) -> None:
    assert work(np.array([spark])) == pytest.approx(work(np.array([spark]), steps=400), rel=0.03)


def ratio(inertia: float, rpm: float = 550.0, spent: float = 5.0, hand: float = 3.0) -> float:
    same = np.ones(1)
    return float(
        kickback.kick_ratio(same * 15.0, same * inertia, same * rpm, same * spent, same * hand, same * 23.0)[0]
    )


def test_losing_the_blade_loses_what_carries_the_crank_over() -> None:
    assert ratio(0.006) > 1.0 > ratio(0.032)


def test_a_faster_pull_and_a_firm_hand_kick_less() -> None:
    assert ratio(0.01, rpm=800.0) < ratio(0.01)
    assert ratio(0.01, hand=10.0) < ratio(0.01)


def test_compression_never_takes_all_of_the_turning() -> None:
    assert np.isfinite(ratio(0.01, spent=1e6, hand=0.0))
