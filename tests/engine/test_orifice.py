"""Flow through a small opening."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import orifice


@given(st.floats(0.0, 0.999), st.floats(0.0, 0.999))
def test_more_back_pressure_never_lets_more_through(one: float, two: float) -> None:
    low, high = sorted((one, two))
    flows = orifice.flow_factor(np.array([low, high]))
    assert flows[0] >= flows[1]


def test_nothing_flows_backwards() -> None:
    assert orifice.flow_factor(np.array([1.0, 1.5, 10.0])).tolist() == [0.0, 0.0, 0.0]


def test_choked_flow_does_not_see_the_far_side() -> None:
    flows = orifice.flow_factor(np.array([0.0, 0.2, orifice.CRITICAL]))
    assert np.ptp(flows) == 0.0


def test_twice_the_area_passes_twice_the_mass() -> None:
    area, p, t, after = np.array([1.0, 2.0]), np.full(2, 5e5), np.full(2, 300.0), np.full(2, 1e5)
    flows = orifice.mass_flow(area, p, t, after)
    assert flows[1] == 2.0 * flows[0]
