"""One compression stroke: limits, directions, and the fast grid against a fine one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.engine import compression, constants
from tests.engine.cylinders import MOWER, stroke

FINE = tuple(float(a) for a in np.arange(180.0, -0.01, -0.25))


def peaks(count: int, **other: float | NDArray[np.float64]) -> NDArray[np.float64]:
    return compression.compress(stroke(count, **other), MOWER).peak_pa


@pytest.mark.parametrize("rpm", [120.0, 200.0, 450.0, 900.0, 3000.0])
def test_the_coarse_grid_stays_within_one_percent_of_a_quarter_degree_grid(rpm: float) -> None:
    made = stroke(6, speed_rpm=rpm, leak_mm2=np.array([0.01, 0.1, 0.4, 1.0, 2.0, 3.0]))
    coarse, fine = compression.compress(made, MOWER), compression.compress(made, MOWER, grid_deg=FINE)
    assert coarse.peak_pa == pytest.approx(fine.peak_pa, rel=0.01)
    assert coarse.end_k == pytest.approx(fine.end_k, rel=0.01)


@pytest.mark.parametrize("rpm", [120.0, 450.0, 900.0])
def test_the_coarse_grid_stays_within_three_percent_with_a_release(rpm: float) -> None:
    made = stroke(3, speed_rpm=rpm, release_mm2=np.array([5.0, 12.0, 20.0]))
    coarse, fine = compression.compress(made, MOWER), compression.compress(made, MOWER, grid_deg=FINE)
    assert coarse.peak_pa == pytest.approx(fine.peak_pa, rel=0.03)


def test_work_and_state_at_the_spark_agree_with_a_fine_grid() -> None:
    made, at = stroke(4, leak_mm2=np.array([0.1, 0.5, 1.0, 2.0])), np.array([5.0, 18.0, 23.0, 40.0])
    coarse, fine = compression.follow(made, MOWER), compression.follow(made, MOWER, FINE)
    for mine, exact in zip(compression.state_at(coarse, at), compression.state_at(fine, at, FINE), strict=True):
        assert mine == pytest.approx(exact, rel=0.01)
    work = compression.work_done(coarse, MOWER, made.ambient_pa)
    assert work == pytest.approx(compression.work_done(fine, MOWER, made.ambient_pa, FINE), rel=0.01)


def test_a_spark_before_closing_finds_the_inlet_and_one_after_top_the_end() -> None:
    made = stroke(2, begin_deg=110.0, inlet_pa=95e3)
    pressures, _ = compression.state_at(compression.follow(made, MOWER), np.array([140.0, -20.0]))
    assert pressures[0] == pytest.approx(95e3)
    assert pressures[1] == pytest.approx(compression.compress(made, MOWER).end_pa[1], rel=1e-12)


@settings(max_examples=60)
@given(st.floats(0.0, 20.0), st.floats(0.0, 5.0), st.floats(60.0, 3500.0), st.floats(60e3, 104e3))
def test_more_leak_never_compresses_more(leak: float, more: float, rpm: float, pressure: float) -> None:
    same = {"speed_rpm": rpm, "inlet_pa": pressure, "ambient_pa": pressure}
    tight, leaky = peaks(2, leak_mm2=np.array([leak, leak + more]), **same)
    assert leaky <= tight * (1.0 + 2e-3)


@settings(max_examples=60)
@given(st.floats(0.0, 8.0), st.floats(80.0, 1500.0), st.floats(1.0, 2.0))
def test_a_faster_pull_never_compresses_less(leak: float, rpm: float, faster: float) -> None:
    slow, fast = peaks(2, leak_mm2=leak, speed_rpm=np.array([rpm, rpm * faster]))
    assert fast >= slow * (1.0 - 2e-3)


@settings(max_examples=60)
@given(
    st.floats(0.0, 400.0), st.floats(0.0, 40.0), st.floats(40.0, 4000.0), st.floats(20.0, 178.0),
    st.floats(2e3, 104e3), st.floats(250.0, 450.0), st.floats(3e-6, 80e-6),
)  # fmt: skip
def test_any_machine_gives_a_finite_pressure_between_nothing_and_the_adiabatic(
    leak: float, release: float, rpm: float, begin: float, inlet: float, wall: float, clearance: float
) -> None:
    made = stroke(
        1, leak_mm2=leak, release_mm2=release, speed_rpm=rpm, begin_deg=begin, inlet_pa=inlet, wall_k=wall,
        clearance_m3=clearance, release_ends_deg=8.0,
    )  # fmt: skip
    done, followed = compression.compress(made, MOWER), compression.follow(made, MOWER)
    for values in (done.peak_pa, done.end_k, done.kept, followed.pressure_pa, followed.temperature_k):
        assert np.isfinite(values).all()
    assert done.peak_pa[0] >= inlet * (1.0 - 1e-9)
    assert done.kept[0] <= 1.0 + 1e-9


def test_colder_walls_take_pressure() -> None:
    cold, hot = peaks(2, wall_k=np.array([260.0, 390.0]))
    assert cold < hot


def test_a_later_closing_valve_compresses_less() -> None:
    early, late = peaks(2, begin_deg=np.array([150.0, 110.0]))
    assert late < early


def test_a_release_that_ends_later_compresses_less() -> None:
    early, late, never = peaks(3, release_mm2=15.0, release_ends_deg=np.array([60.0, 45.0, 8.0]))
    assert never < late < early


def test_a_valve_that_stands_open_compresses_nothing() -> None:
    assert peaks(1, leak_mm2=200.0)[0] == pytest.approx(101325.0, rel=0.05)


def test_a_machine_reads_the_same_alone_and_in_company() -> None:
    leaks = np.linspace(0.05, 4.0, 5000)
    begins = np.linspace(100.0, 170.0, 5000)
    together = peaks(5000, leak_mm2=leaks, begin_deg=begins)
    for index in (0, 2047, 2048, 4999):
        alone = peaks(1, leak_mm2=leaks[index], begin_deg=begins[index])
        assert alone[0] == pytest.approx(together[index], rel=1e-12)


def test_followed_or_not_the_peak_is_the_same() -> None:
    made = stroke(3, leak_mm2=np.array([0.1, 1.0, 3.0]))
    plain, followed = compression.compress(made, MOWER), compression.follow(made, MOWER)
    assert followed.pressure_pa.max(axis=0) == pytest.approx(plain.peak_pa, rel=1e-12)


def test_a_hose_behind_the_check_valve_only_slows_the_needle() -> None:
    peak, ambient, clearance = np.full(1, 9e5), np.full(1, 101325.0), np.full(1, 21e-6)
    readings = [
        float(compression.gauge_reading(peak, ambient, clearance, 25e-6, 0.0, pulls)[0]) for pulls in (1, 2, 5, 60)
    ]
    assert readings == sorted(readings)
    assert readings[0] < 0.6 * readings[-1]
    assert readings[-1] == pytest.approx(9e5 - 101325.0, rel=1e-6)


def test_a_gauge_never_shows_less_than_nothing() -> None:
    reading = compression.gauge_reading(np.full(1, 9e4), np.full(1, 1e5), np.full(1, 2e-5), 3e-6, 2e4, 5.0)
    assert reading[0] == 0.0


def test_rope_force_grows_with_pressure_and_shrinks_with_a_larger_reel() -> None:
    peak, ambient = np.array([5e5, 1e6]), np.full(2, 1e5)
    small = compression.rope_force(peak, ambient, MOWER, 0.02)
    large = compression.rope_force(peak, ambient, MOWER, 0.03)
    assert small[1] > small[0] > large[0] > 0.0


def test_the_heat_loss_guess_moves_the_answer_and_only_inside_its_block() -> None:
    plain = peaks(1)[0]
    with constants.shifted({"compression_heat_w_m2k": 2.0}):
        assert peaks(1)[0] < plain
    assert peaks(1)[0] == plain


def test_single_precision_gives_the_same_to_one_in_a_thousand_however_large_the_leak() -> None:
    count = 4000
    rng = np.random.default_rng(11)
    made = stroke(
        count, leak_mm2=10.0 ** rng.uniform(-3.0, 2.0, count), release_mm2=rng.uniform(0.0, 40.0, count),
        speed_rpm=rng.uniform(60.0, 3600.0, count), begin_deg=rng.uniform(90.0, 170.0, count),
        clearance_m3=rng.uniform(3e-6, 60e-6, count), inlet_pa=rng.uniform(2e4, 104e3, count),
        wall_k=rng.uniform(250.0, 450.0, count), release_ends_deg=rng.uniform(8.0, 60.0, count),
    )  # fmt: skip
    double, single = compression.compress(made, MOWER), compression.compress(made, MOWER, precision=np.float32)
    for name in ("peak_pa", "end_pa", "end_k", "kept"):
        off = np.abs(getattr(single, name) / getattr(double, name) - 1.0)
        assert off.max() < 1e-3
        assert np.quantile(off, 0.98) < 3e-5
    table = compression.follow(made, MOWER, precision=np.float32)
    assert table.pressure_pa.dtype == np.float64
    np.testing.assert_allclose(table.table, compression.follow(made, MOWER).table, rtol=1e-3)
