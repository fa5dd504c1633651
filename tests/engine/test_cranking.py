"""Arm, friction and rope."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.engine.cranking import arm_speed_share, friction_nm, rope_return, rope_rpm

FloatArray = NDArray[np.float64]


def _one(value: float) -> FloatArray:
    return np.array([value])


def test_the_usual_load_gives_the_usual_speed_and_too_much_gives_none() -> None:
    assert arm_speed_share(_one(2.0), _one(2.0), _one(9.0))[0] == pytest.approx(1.0)
    assert arm_speed_share(_one(9.0), _one(2.0), _one(9.0))[0] == 0.0
    assert arm_speed_share(_one(50.0), _one(2.0), _one(9.0))[0] == 0.0


@given(load=st.floats(0.0, 20.0), more=st.floats(0.0, 5.0))
def test_a_heavier_load_never_turns_faster(load: float, more: float) -> None:
    assert arm_speed_share(_one(load + more), _one(2.0), _one(9.0)) <= arm_speed_share(_one(load), _one(2.0), _one(9.0))


@given(air=st.floats(-25.0, 40.0), colder=st.floats(0.1, 20.0), oil=st.floats(0.3, 3.0))
def test_colder_or_thicker_oil_drags_more(air: float, colder: float, oil: float) -> None:
    assert friction_nm(160.0, _one(oil), air - colder) >= friction_nm(160.0, _one(oil), air)
    assert friction_nm(160.0, _one(oil * 1.2), air) >= friction_nm(160.0, _one(oil), air)


def test_a_bigger_engine_drags_more() -> None:
    assert friction_nm(320.0, _one(1.0), 20.0)[0] == pytest.approx(2.0 * friction_nm(160.0, _one(1.0), 20.0)[0])


def test_half_a_rope_gives_the_root_of_half_the_speed() -> None:
    full = rope_rpm(550.0, _one(1.0), _one(1.0), _one(1.0), _one(1.0))
    half = rope_rpm(550.0, _one(1.0), _one(1.0), _one(1.0), _one(0.5))
    assert full[0] == 550.0
    assert half[0] == pytest.approx(550.0 * np.sqrt(0.5))


@given(spring=st.floats(0.0, 1.2), drag=st.floats(0.05, 3.0), wear=st.floats(0.0, 1.0))
def test_a_stronger_spring_returns_better_and_a_rough_guide_worse(spring: float, drag: float, wear: float) -> None:
    here = rope_return(_one(spring), _one(0.0), _one(drag), _one(wear))[0]
    assert 0.0 <= here <= 1.0
    assert rope_return(_one(spring + 0.2), _one(0.0), _one(drag), _one(wear))[0] >= here
    assert rope_return(_one(spring), _one(0.0), _one(drag), _one(wear + 0.5))[0] <= here
