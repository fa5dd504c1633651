"""Acceptance under uncertainty: both sides must be proved."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from firstpull.gauges.acceptance import accept, conformance_probability


def test_a_blade_stop_is_passed_only_well_below_three_seconds() -> None:
    # Limit: 16 CFR 1205.5(a)(1)(iii); guard band: ISO 14253-1:2017, one-sided 95 %.
    assert accept(2.80, 0.08, None, 3.0) == "passed"
    assert accept(2.95, 0.08, None, 3.0) == "undecided"
    assert accept(3.05, 0.08, None, 3.0) == "undecided"
    assert accept(3.20, 0.08, None, 3.0) == "failed"


def test_a_feeler_reading_near_the_edge_is_undecided() -> None:
    assert accept(0.175, 0.003, 0.15, 0.20) == "passed"
    assert accept(0.151, 0.003, 0.15, 0.20) == "undecided"
    assert accept(0.140, 0.003, 0.15, 0.20) == "failed"


def test_no_figure_held_is_undecided() -> None:
    assert accept(1.0, 0.1, None, None) == "undecided"


@pytest.mark.parametrize(("value", "width"), [(float("nan"), 0.1), (1.0, -0.1), (1.0, float("inf"))])
def test_nonsense_is_refused(value: float, width: float) -> None:
    with pytest.raises(ValueError, match="reading"):
        accept(value, width, 0.0, 1.0)


def test_conformance_probability_is_that_of_the_normal_distribution() -> None:
    # JCGM 106:2012: at the guard limit 1.6449 u inside, the probability is 0.95.
    assert conformance_probability(3.0 - 1.6449 * 0.1, 0.1, None, 3.0) == pytest.approx(0.95, abs=1e-4)
    assert conformance_probability(10.03, 0.02, 9.95, 10.05) == pytest.approx(
        norm.cdf(1.0) - norm.cdf(-4.0), abs=1e-9
    )
    with pytest.raises(ValueError, match="uncertainty"):
        conformance_probability(1.0, 0.0, 0.0, 2.0)


@given(st.floats(-5, 5), st.floats(0.001, 2), st.floats(-3, 0), st.floats(0.5, 3))
def test_what_is_passed_conforms_with_95_in_100_against_each_limit(
    value: float, width: float, low: float, high: float
) -> None:
    if accept(value, width, low, high) == "passed":
        assert conformance_probability(value, width, None, high) >= 0.95 - 1e-4
        assert conformance_probability(value, width, low, None) >= 0.95 - 1e-4
