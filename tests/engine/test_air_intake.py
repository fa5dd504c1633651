"""The way of the air: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import air_intake, constants


def test_a_clean_filter_leaves_all_the_air() -> None:
    drop = air_intake.filter_drop_pa(np.zeros(1))
    assert drop[0] == constants.value("filter_drop_pa")
    assert air_intake.air_share(drop, np.zeros(1))[0] == pytest.approx(1.0)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_dirt_and_oil_together_close_more_than_either(dirt: float, oil: float) -> None:
    both = air_intake.filter_closed_share(np.array([dirt]), np.array([oil]))[0]
    assert 0.0 <= both <= 1.0
    assert both >= dirt - 1e-12
    assert both >= constants.value("oil_clog_share") * oil - 1e-12


@given(st.floats(0.0, 0.98), st.floats(0.0, 0.02))
def test_suction_rises_and_air_falls_as_a_filter_closes(closed: float, more: float) -> None:
    drop = air_intake.filter_drop_pa(np.array([closed, closed + more]))
    air = air_intake.air_share(drop, np.zeros(2))
    assert drop[1] >= drop[0]
    assert air[1] <= air[0]


def test_a_nest_in_the_air_way_takes_the_air_in_proportion() -> None:
    clean = air_intake.filter_drop_pa(np.zeros(1))
    assert air_intake.air_share(clean, np.array([0.9]))[0] == pytest.approx(0.1, abs=0.01)


def test_a_tight_joint_shows_no_bubbles_and_an_open_one_does() -> None:
    none, plain = air_intake.bubbles(np.array([0.02, 5.0]))
    assert none < 0.01
    assert plain > 0.98
