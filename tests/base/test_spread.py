"""Forms in which a number can vary."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from firstpull.base.errors import FirstpullError
from firstpull.base.spread import Form, Spread

SHARES = np.linspace(0.001, 0.999, 333)
NUMBERS = st.floats(-1e6, 1e6)


def test_normal_and_log_normal_agree_with_an_outside_library() -> None:
    normal = Spread("normal", 3.0, 2.0).quantile(SHARES)
    np.testing.assert_allclose(normal, stats.norm.ppf(SHARES, 3.0, 2.0), rtol=1e-12)
    np.testing.assert_allclose(
        Spread("log-normal", 5.0, 0.4).quantile(SHARES), stats.lognorm.ppf(SHARES, 0.4, scale=5.0), rtol=1e-12
    )


def test_uniform_and_log_uniform_agree_with_an_outside_library() -> None:
    np.testing.assert_allclose(Spread("uniform", 2.0, 5.0).quantile(SHARES), stats.uniform.ppf(SHARES, 2.0, 3.0))
    np.testing.assert_allclose(
        Spread("log-uniform", 0.1, 100.0).quantile(SHARES), stats.loguniform.ppf(SHARES, 0.1, 100.0), rtol=1e-12
    )


def test_a_fixed_number_is_always_that_number() -> None:
    assert set(Spread("fixed", 4.2).quantile(SHARES).tolist()) == {4.2}


def test_every_choice_comes_equally_often() -> None:
    values, counts = np.unique(
        Spread("choice", values=(1.0, 2.0, 5.0)).quantile(np.linspace(0.0005, 0.9995, 3000)), return_counts=True
    )
    assert values.tolist() == [1.0, 2.0, 5.0]
    assert counts.tolist() == [1000, 1000, 1000]


def test_shift_and_scale_start_from_the_healthy_value() -> None:
    healthy = np.full(SHARES.size, 10.0)
    moved = Spread("shift", -2.0, 2.0).quantile(SHARES, healthy)
    grown = Spread("scale", 1.0, 3.0).quantile(SHARES, healthy)
    assert moved.min() >= 8.0
    assert moved.max() <= 12.0
    np.testing.assert_allclose(grown, 10.0 * (1.0 + 2.0 * SHARES))


def test_relative_forms_refuse_to_draw_without_a_healthy_value() -> None:
    with pytest.raises(FirstpullError, match="needs the healthy value"):
        Spread("scale", 1.0, 2.0).quantile(SHARES)


@given(
    form=st.sampled_from(["fixed", "uniform", "log-uniform", "normal", "log-normal", "shift", "scale"]),
    a=st.floats(0.01, 1e3), width=st.floats(0.0, 1e3), low=NUMBERS, span=st.floats(0.0, 1e6),
)  # fmt: skip
def test_draws_stay_within_their_bounds_and_never_fall_as_the_share_rises(
    form: Form, a: float, width: float, low: float, span: float
) -> None:
    b = min(width, 50.0) if form == "log-normal" else (width if form == "normal" else a + width)
    with np.errstate(over="ignore"):
        drawn = Spread(form, a, b, low=low, high=low + span).quantile(SHARES, np.ones(SHARES.size))
    assert (drawn >= low).all()
    assert (drawn <= low + span).all()
    assert (np.diff(drawn) >= 0.0).all()


@pytest.mark.parametrize(
    ("form", "a", "b", "low", "high", "says"),
    [
        ("choice", 0.0, 0.0, 0.0, 1.0, "no values"),
        ("uniform", 2.0, 1.0, 0.0, 9.0, "runs from 2.0 down to 1.0"),
        ("log-uniform", 0.0, 1.0, 0.0, 9.0, "no logarithm"),
        ("log-normal", -1.0, 1.0, 0.0, 9.0, "no logarithm"),
        ("normal", 0.0, -1.0, 0.0, 9.0, "a spread of -1.0"),
        ("fixed", 0.0, 0.0, 2.0, 1.0, "bounds 2.0 to 1.0"),
    ],
)
def test_a_spread_that_makes_no_sense_is_refused_with_what_would_be_right(
    form: Form, a: float, b: float, low: float, high: float, says: str
) -> None:
    with pytest.raises(FirstpullError, match=says) as caught:
        Spread(form, a, b, low=low, high=high)
    assert caught.value.right
