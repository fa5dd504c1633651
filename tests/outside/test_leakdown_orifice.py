"""Leaks and the two-orifice tester against gas-flow standards and libraries."""

from __future__ import annotations

import fluids
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

from firstpull.engine import leakdown, orifice

PSI, SEA_PA, ROOM_K = 6894.757, 101325.0, 293.15


def test_the_critical_ratio_of_air() -> None:
    # fluids.P_critical_flow; ISO 9300 ideal-gas identity: 0.528282.
    assert pytest.approx(fluids.P_critical_flow(1.0, 1.4), rel=1e-9) == orifice.CRITICAL
    assert pytest.approx(0.528282, abs=1e-6) == orifice.CRITICAL


def test_the_critical_flow_function_of_air() -> None:
    # ISO 9300: C* = 0.684731 at gamma 1.4; API 520 gives C = 0.03948 C* (fluids.API520_C).
    assert pytest.approx(0.684731, abs=1e-6) == orifice.CHOKED
    assert pytest.approx(fluids.API520_C(1.4), rel=2e-4) == 0.03948 * orifice.CHOKED


def test_relief_valve_sizing_gives_back_our_area() -> None:
    # API 520 sizing (fluids.API520_A_g) of the flow that we say passes 1 mm2 from 6.5 bar.
    flow = float(orifice.mass_flow(np.ones(1), np.full(1, 6.5e5), np.full(1, ROOM_K), np.full(1, SEA_PA))[0])
    area = fluids.API520_A_g(m=flow, T=ROOM_K, Z=1.0, MW=28.9647, k=1.4, P1=6.5e5, Kd=1.0, Kb=1.0, Kc=1.0)
    assert area == pytest.approx(1e-6, rel=1e-3)
    assert flow == pytest.approx(1.5343e-3, rel=1e-3)


def real_nozzle(before_pa: float, after_pa: float) -> float:
    entropy = PropsSI("S", "T", ROOM_K, "P", before_pa, "Air")
    start = PropsSI("H", "T", ROOM_K, "P", before_pa, "Air")
    end = PropsSI("H", "P", after_pa, "S", entropy, "Air")
    return float(np.sqrt(2.0 * (start - end)) * PropsSI("D", "P", after_pa, "S", entropy, "Air") * 1e-6)


@pytest.mark.parametrize(("ratio", "tolerance"), [(0.7, 0.005), (0.85, 0.006), (0.95, 0.008)])
def test_flow_below_choking_agrees_with_real_air(ratio: float, tolerance: float) -> None:
    # CoolProp isentropic nozzle: 1.4335e-3, 1.1263e-3, 0.6903e-3 kg/s at 6.5 bar.
    ours = orifice.mass_flow(np.ones(1), np.full(1, 6.5e5), np.full(1, ROOM_K), np.full(1, ratio * 6.5e5))[0]
    assert float(ours) == pytest.approx(real_nozzle(6.5e5, ratio * 6.5e5), rel=tolerance)


def test_the_ellipse_stays_within_four_tenths_of_a_percent_of_the_exact_law() -> None:
    # ISO 6358-1:2013 describes the subsonic range by an ellipse; isentropic law as reference.
    ratio = np.linspace(0.0, 0.99, 300)
    assert orifice.flow_factor(ratio) == pytest.approx(orifice.exact_flow_factor(ratio), rel=4e-3)


def reading(over: float, supply_gauge_pa: float) -> float:
    supply, ambient = np.full(1, SEA_PA + supply_gauge_pa), np.full(1, SEA_PA)
    cylinder = leakdown.cylinder_pressure(np.full(1, over), supply, ambient)
    return float(leakdown.reading_percent(cylinder, supply, ambient)[0])


@pytest.mark.parametrize(("over", "percent"), [(0.5, 6.58), (1.0, 22.79), (2.0, 59.18), (4.0, 88.32)])
def test_readings_at_80_psi_agree_with_an_independent_root(over: float, percent: float) -> None:
    # SciPy brentq on the exact isentropic law; the four values were worked out apart from this code.
    supply = SEA_PA + 80.0 * PSI

    def surplus(p: float) -> float:
        inflow = orifice.exact_flow_factor(np.full(1, p / supply))[0] * supply
        outflow = over * orifice.exact_flow_factor(np.full(1, SEA_PA / p))[0] * p
        return float(inflow - outflow)

    root = brentq(surplus, SEA_PA * 1.0001, supply * 0.9999)
    assert 100.0 * (supply - root) / (80.0 * PSI) == pytest.approx(percent, abs=0.1)
    assert reading(over, 80.0 * PSI) == pytest.approx(percent, abs=0.1)


def test_sixty_over_eighty_on_the_aircraft_orifice() -> None:
    # FAA AC 43.13-1B ch. 8 (second-hand): 0.040 in reference for bores under 5 in; 60/80 means a leak of 0.858 mm2.
    reference = np.pi / 4 * (0.040 * 25.4) ** 2
    assert reference == pytest.approx(0.8107, abs=1e-3)
    found = brentq(lambda leak: reading(leak / reference, 80.0 * PSI) - 25.0, 0.1, 3.0)
    assert found == pytest.approx(0.858, rel=5e-3)


def test_trade_limits_lie_in_the_order_of_the_leaks() -> None:
    # Common practice, no primary source: up to 10 % good, to 20 % acceptable, from 30 % bad (wide, tester-dependent).
    healthy, worn = reading(0.17 / 0.30, 80.0 * PSI), reading(1.25 / 0.30, 80.0 * PSI)
    assert healthy < 20.0
    assert worn > 30.0


def test_the_crank_swings_hard_enough_to_need_holding() -> None:
    # Arithmetic: 620 kPa on a 68 mm piston at 90 deg with 22 mm radius is about 50 N.m.
    area = np.pi * 0.068**2 / 4
    torque = leakdown.crank_torque(np.full(1, SEA_PA + 620e3), np.full(1, SEA_PA), area, 0.044, 90.0)
    assert float(torque[0]) == pytest.approx(49.5, abs=1.0)
