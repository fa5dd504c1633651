"""Head temperature."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import cooling

ZERO = np.zeros(1)


def rise(load: float = 0.5, late: float = 0.0, lean: float = 0.0, air: float = 1.0) -> float:
    one = np.ones(1)
    return float(cooling.head_rise_k(2400.0, 10.5, one * load, one * late, one * lean, one * air)[0])


def test_load_late_spark_lean_mixture_and_blocked_fins_each_heat_the_head() -> None:
    usual = rise()
    assert rise(load=1.0) > usual
    assert rise(late=0.5) > usual
    assert rise(lean=1.0) > usual
    assert rise(air=0.5) == pytest.approx(2.0 * usual)


@pytest.mark.parametrize("which", [0, 1, 2, 3])
def test_everything_that_blocks_the_air_cools_less(which: int) -> None:
    blocked = [np.zeros(1) for _ in range(4)]
    blocked[which] = np.full(1, 0.7)
    clean = cooling.air_share(ZERO, ZERO, ZERO, ZERO)[0]
    assert 0.0 < cooling.air_share(*blocked)[0] < clean == 1.0


def test_even_a_wholly_packed_engine_loses_some_heat() -> None:
    one = np.ones(1)
    assert cooling.air_share(one, one, one, one)[0] > 0.0


def test_a_hot_reading_takes_about_ten_minutes_to_settle() -> None:
    assert 8.0 <= cooling.settle_minutes(2.5, 10.5, np.ones(1))[0] <= 15.0
