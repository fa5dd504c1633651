"""Bits against worked figures and against the ways they must not change."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.reasoning.information import GroupBits, group_bits, mutual_bits

SHARE = np.array([0.25, 0.25, 0.5])


def test_a_channel_that_errs_one_time_in_ten_gives_the_textbook_figure() -> None:
    # Cover, Thomas, Elements of Information Theory, 2nd ed. 2006, 7.1.4: 1 - H(0.1) = 0.5310 bit (from memory)
    table = np.array([[0.9, 0.1], [0.1, 0.9]])
    assert mutual_bits(table, np.array([0.5, 0.5])) == pytest.approx(0.5310, abs=1e-4)


def test_a_clear_check_tells_all_the_doubt_there_is() -> None:
    assert mutual_bits(np.eye(3), SHARE) == pytest.approx(1.5)


def test_telling_states_apart_that_call_for_the_same_repair_is_worth_nothing() -> None:
    table = np.array([[1.0, 0.0, 0.5], [0.0, 1.0, 0.5]])
    assert mutual_bits(table, SHARE) > 0.4
    assert group_bits(table, SHARE, np.array([0, 0, 1])) == pytest.approx(0.0, abs=1e-12)


def test_groups_of_one_state_each_give_what_the_states_give() -> None:
    table = np.random.default_rng(5).dirichlet(np.ones(4), size=3).T
    assert GroupBits(SHARE, np.array([2, 0, 1])).of(table) == pytest.approx(mutual_bits(table, SHARE))
