"""The two-orifice tester."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine import leakdown
from firstpull.engine.orifice import CRITICAL

SEA = np.full(1, 101325.0)


def percent(over: float, supply_kpa: float = 550.0, ambient_kpa: float = 101.325, exact: bool = False) -> float:
    ambient = np.full(1, ambient_kpa * 1e3)
    supply = ambient + supply_kpa * 1e3
    cylinder = leakdown.cylinder_pressure(np.full(1, over), supply, ambient, exact)
    return float(leakdown.reading_percent(cylinder, supply, ambient)[0])


@given(st.floats(0.0, 50.0), st.floats(0.0, 5.0), st.floats(100.0, 900.0))
def test_a_larger_leak_never_reads_less(over: float, more: float, supply: float) -> None:
    assert percent(over + more, supply) >= percent(over, supply) - 1e-4


@given(st.floats(0.0, 200.0), st.floats(50.0, 900.0))
def test_readings_stay_between_nothing_and_all(over: float, supply: float) -> None:
    assert -1e-4 <= percent(over, supply) <= 100.0


def test_a_tight_cylinder_reads_nothing() -> None:
    assert percent(0.0) == pytest.approx(0.0, abs=1e-4)


@pytest.mark.parametrize("over", [0.1, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0])
def test_the_ellipse_moves_a_reading_by_less_than_a_tenth_of_a_percent(over: float) -> None:
    assert percent(over) == pytest.approx(percent(over, exact=True), abs=0.1)


@pytest.mark.parametrize("over", [0.2, 0.5, 0.9, 1.2])
def test_halving_agrees_with_the_closed_form_where_it_holds(over: float) -> None:
    supply = SEA + 550e3
    ratio = leakdown.cylinder_pressure(np.full(1, over), supply, SEA) / supply
    assert ratio[0] > CRITICAL
    assert ratio == pytest.approx(leakdown.closed_form_ratio(np.full(1, over)), abs=1e-6)


def test_altitude_hardly_moves_the_reading() -> None:
    assert percent(1.0, ambient_kpa=84.0) == pytest.approx(percent(1.0), abs=1.0)


def test_free_air_is_in_proportion_to_the_hole() -> None:
    area, cylinder = np.array([0.1, 0.3]), np.full(2, 5e5)
    flow = leakdown.free_air(area, cylinder, np.full(2, 101325.0), np.full(2, 293.15))
    assert flow[1] == pytest.approx(3.0 * flow[0])
    assert 1.0 < flow[0] < 10.0


def test_nothing_turns_the_crank_at_dead_centre() -> None:
    torques = [float(leakdown.crank_torque(SEA + 5e5, SEA, 3.6e-3, 0.044, deg)[0]) for deg in (0.0, 5.0, 10.0)]
    assert torques[0] == 0.0
    assert torques[2] > torques[1] > 0.0
