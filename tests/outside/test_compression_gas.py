"""Compression against other people's gas libraries, an independent integration and published practice."""

from __future__ import annotations

import cantera as ct
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from firstpull.engine import compression, constants, orifice

FloatArray = NDArray[np.float64]
MOWER = compression.Geometry(160e-6, 0.068, 0.044, 0.28)
COLD_K, SEA_PA = 293.15, 101325.0
PSI = 6894.757


def one_stroke(
    ratio: float, rpm: float, leak_mm2: float, release_mm2: float = 0.0, **other: float
) -> compression.Stroke:
    values = {
        "begin_deg": 130.0, "clearance_m3": MOWER.displacement_m3 / (ratio - 1.0), "speed_rpm": rpm,
        "leak_mm2": leak_mm2, "release_mm2": release_mm2, "release_ends_deg": 50.0, "inlet_pa": SEA_PA,
        "inlet_k": COLD_K, "wall_k": COLD_K, "ambient_pa": SEA_PA,
    } | other  # fmt: skip
    return compression.Stroke(**{name: np.array([value]) for name, value in values.items()})


def peak(ratio: float, rpm: float, leak_mm2: float, release_mm2: float = 0.0, **other: float) -> float:
    return float(compression.compress(one_stroke(ratio, rpm, leak_mm2, release_mm2, **other), MOWER).peak_pa[0])


def adiabatic(ratio: float) -> float:
    with constants.shifted({"compression_heat_w_m2k": 1e-12}):
        return peak(ratio, 1e6, 0.0, begin_deg=180.0)


@pytest.mark.parametrize("ratio", [6.0, 7.0, 8.5])
def test_a_tight_cylinder_without_heat_loss_follows_the_ratio_to_the_gamma(ratio: float) -> None:
    # Poisson's law, any thermodynamics text; the integration is exact here by construction.
    assert adiabatic(ratio) == pytest.approx(SEA_PA * ratio**1.4, rel=1e-9)


@pytest.mark.parametrize("ratio", [6.0, 7.0, 8.5])
def test_the_gas_of_one_gamma_is_within_two_percent_of_real_air(ratio: float) -> None:
    # CoolProp, Air by Lemmon et al., J. Phys. Chem. Ref. Data 29 (2000) 331: isentrope from 1 atm, 293.15 K.
    entropy = PropsSI("S", "T", COLD_K, "P", SEA_PA, "Air")
    density = PropsSI("D", "T", COLD_K, "P", SEA_PA, "Air")
    real = PropsSI("P", "S", entropy, "D", ratio * density, "Air")
    assert adiabatic(ratio) == pytest.approx(real, rel=0.02)


@pytest.mark.parametrize("ratio", [6.0, 7.0, 8.5])
def test_the_gas_of_one_gamma_is_within_three_percent_of_nasa_polynomials(ratio: float) -> None:
    # Cantera air.yaml (NASA polynomials, heat capacity rising with temperature): isentrope to the same volume.
    air = ct.Solution("air.yaml")
    air.TPX = COLD_K, SEA_PA, "O2:0.21,N2:0.79"
    air.SV = air.s, air.v / ratio
    assert adiabatic(ratio) == pytest.approx(air.P, rel=0.03)


def followed_by_scipy(ratio: float, rpm: float, leak_mm2: float, release_mm2: float) -> float:
    """The same cylinder as mass and internal energy, exact nozzle, adaptive steps; shares no line with the engine."""
    clearance, r, cv, cp = 160e-6 / (ratio - 1.0), 287.05, 287.05 / 0.4, 287.05 * 1.4 / 0.4
    h, omega, radius, rod = constants.value("compression_heat_w_m2k"), rpm * np.pi / 30.0, 0.022, 0.022 / 0.28
    area = np.pi * 0.068**2 / 4

    def volume(turned: float) -> float:
        before = np.deg2rad(130.0) - turned
        down = radius + rod - radius * np.cos(before) - np.sqrt(rod**2 - (radius * np.sin(before)) ** 2)
        return float(clearance + area * down)

    def nozzle(x: float) -> float:
        x = max(min(x, 1.0), 0.5282818)
        return float(np.sqrt(2.8 / 0.4 * x ** (2 / 1.4) * (1.0 - x ** (0.4 / 1.4))))

    def slope(turned: float, state: FloatArray) -> list[float]:
        mass, energy = state
        v, kelvin = volume(turned), energy / (mass * cv)
        p = mass * r * kelvin / v
        dv = (volume(turned + 1e-5) - volume(turned - 1e-5)) / 2e-5
        opened = leak_mm2 + (release_mm2 if turned < np.deg2rad(80.0) else 0.0)
        out = opened * 1e-6 * p / np.sqrt(r * kelvin) * nozzle(SEA_PA / p) / omega
        heat = h * (2 * area + 4 * (v - clearance) / 0.068) * (kelvin - COLD_K) / omega
        return [-out, -p * dv - heat - out * cp * kelvin]

    start = SEA_PA * volume(0.0) / (r * COLD_K)
    found = solve_ivp(
        slope, (0.0, np.deg2rad(130.0)), [start, start * cv * COLD_K], method="LSODA", rtol=1e-7, atol=1e-12,
        max_step=np.deg2rad(1.0),
    )  # fmt: skip
    volumes = np.array([volume(float(t)) for t in found.t])
    return float((found.y[1] / cv * r / volumes).max())


@pytest.mark.parametrize(("rpm", "leak", "release"), [
    (150.0, 0.1, 0.0), (450.0, 0.1, 0.0), (450.0, 1.0, 0.0), (150.0, 2.0, 0.0), (900.0, 4.0, 0.0), (550.0, 0.2, 12.0),
])  # fmt: skip
def test_leaks_release_and_heat_agree_with_an_independent_integration(rpm: float, leak: float, release: float) -> None:
    # SciPy LSODA on mass and energy with the exact isentropic nozzle (ours: Heun on logarithms, ISO 6358 ellipse).
    assert peak(8.5, rpm, leak, release) == pytest.approx(followed_by_scipy(8.5, rpm, leak, release), rel=0.012)


def test_piston_travel_matches_the_slider_crank_at_quarter_and_half_turn() -> None:
    # Slider-crank geometry: at 90 deg the piston has gone r + l - sqrt(l^2 - r^2), at 180 deg the stroke.
    radius, rod = 0.022, 0.022 / 0.28
    quarter = MOWER.displacement_m3 * (radius + rod - np.sqrt(rod**2 - radius**2)) / 0.044
    got = compression.swept(np.array([0.0, 90.0, 180.0]), MOWER)
    assert got == pytest.approx([0.0, quarter, MOWER.displacement_m3], abs=1e-12)


def test_the_polytropic_exponent_at_pulling_speed_is_that_of_small_engines() -> None:
    # Heywood, Internal Combustion Engine Fundamentals (1988), ch. 9: compression of about 1.3 +- 0.05 (from memory).
    stroke = one_stroke(8.5, 450.0, 0.0)
    begin = float(stroke.clearance_m3[0] + compression.swept(stroke.begin_deg, MOWER)[0])
    exponent = np.log(peak(8.5, 450.0, 0.0) / SEA_PA) / np.log(begin / float(stroke.clearance_m3[0]))
    assert 1.25 <= exponent <= 1.37


def test_a_side_valve_engine_reads_what_a_polytropic_sum_says() -> None:
    # r^n of whole-stroke ratio 6 at n = 1.25-1.30 is 123-136 psi of gauge (arithmetic); intake closing lowers it.
    reading = (peak(6.0, 450.0, 0.1) - SEA_PA) / PSI
    assert 105.0 <= reading <= 136.0


def test_altitude_lowers_the_gauge_as_the_air_pressure_does() -> None:
    # ISO 2533: 84556 Pa at 1500 m, 0.8345 of sea level; heat loss and leak leave a little less.
    high = peak(8.5, 450.0, 0.1, inlet_pa=84556.0, ambient_pa=84556.0) - 84556.0
    assert 0.815 <= high / (peak(8.5, 450.0, 0.1) - SEA_PA) <= 0.8365


def test_a_sound_small_two_stroke_reads_as_service_manuals_say() -> None:
    # A maker's two-stroke service manual: new 120-150 psi, below 92 psi suspect (second-hand, maker not named).
    trimmer = compression.Geometry(25.4e-6, 0.034, 0.028, 0.28)
    sound = one_stroke(8.0, 800.0, 0.75 * 0.05, begin_deg=105.0, clearance_m3=25.4e-6 / 7.0)
    scored = one_stroke(8.0, 800.0, 0.75 * 2.0, begin_deg=105.0, clearance_m3=25.4e-6 / 7.0)
    new = (float(compression.compress(sound, trimmer).peak_pa[0]) - SEA_PA) / PSI
    bad = (float(compression.compress(scored, trimmer).peak_pa[0]) - SEA_PA) / PSI
    assert 115.0 <= new <= 155.0
    assert bad < 92.0


def test_a_sharp_edge_and_a_nozzle_enclose_our_discharge_coefficient() -> None:
    # ISO 5167-2 corner-tap orifice, beta 0.4 (fluids library, Reader-Harris/Gallagher): 0.60-0.62; a nozzle about 1.
    from fluids.flow_meter import C_Reader_Harris_Gallagher

    edge = C_Reader_Harris_Gallagher(D=0.05, Do=0.02, rho=2.4, mu=1.8e-5, m=0.02, taps="corner")
    assert 0.58 < edge < 0.63
    assert edge < constants.value("compression_discharge") < 1.0
    assert orifice.flow_factor(np.zeros(1))[0] == pytest.approx(orifice.CHOKED)
