"""What mixture strength does: laws and limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import constants, mixture


@given(st.floats(0.0, 6.0))
def test_every_share_of_a_mixture_is_a_share(phi: float) -> None:
    at = np.array([phi])
    for law in (
        mixture.burns_share, mixture.torque_share, mixture.steadiness, mixture.plug_colour, mixture.plug_wetness,
        mixture.black_smoke_chance, mixture.lean_pop_chance,
    ):  # fmt: skip
        assert 0.0 <= law(at)[0] <= 1.0


def test_best_torque_is_slightly_rich() -> None:
    phi = np.linspace(0.6, 2.5, 400)
    best = phi[np.argmax(mixture.torque_share(phi))]
    assert best == pytest.approx(constants.value("best_torque_phi"), abs=0.02)
    assert 1.0 < best < 1.25


def test_too_lean_and_too_rich_do_not_burn() -> None:
    lean, right, rich = mixture.burns_share(np.array([0.5, 1.1, 3.0]))
    assert lean < 0.01
    assert right > 0.99
    assert rich < 0.01


def test_a_little_water_runs_and_much_does_not() -> None:
    shares = mixture.foreign_share(np.array([0.0, 0.1, 0.6]), np.zeros(3))
    assert shares[0] == 1.0
    assert shares[1] > 0.8
    assert shares[2] < 0.01


def test_a_plug_tells_lean_white_and_rich_black() -> None:
    white, tan, black = mixture.plug_colour(np.array([0.7, 1.15, 1.9]))
    assert white < 0.15
    assert tan == pytest.approx(0.5)
    assert black > 0.9


def test_only_lean_mixtures_that_still_light_pop_back() -> None:
    dead, lean, right = mixture.lean_pop_chance(np.array([0.2, 0.6, 1.1]))
    assert lean > 0.5
    assert right < 0.01
    assert dead < 0.01


@given(st.floats(0.0, 5.0), st.floats(0.0, 1.0))
def test_more_liquid_wets_a_plug_more(liquid: float, more: float) -> None:
    dry, wet = mixture.plug_wetness(np.array([liquid, liquid + more]))
    assert wet >= dry
