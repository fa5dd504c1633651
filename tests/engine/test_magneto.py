"""Magnets, primary current and the break."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from firstpull.engine import constants
from firstpull.engine.magneto import STEPS, Primary, break_of, core_flux_and_inductance, edge

FloatArray = NDArray[np.float64]
SHAPE = edge(90.0)
GAP, MAGNET = np.array([0.30]), np.array([1.0])


def machine(**changes: float) -> Primary:
    gap = np.array([changes.pop("gap", 0.30)])
    strength = np.array([changes.pop("strength", 1.0)])
    flux, inductance = core_flux_and_inductance(gap, strength, np.array([0.38]), 120.0)
    values = {
        "resistance_ohm": 0.8, "shunt_ohm": 1e9, "on_v": constants.value("trigger_on_v"),
        "on_ohm": constants.value("trigger_on_ohm"), "trigger_a": 2.48, "family": 0.0, "angle_deg": -5.8,
    }  # fmt: skip
    arrays = {name: np.array([value]) for name, value in {**values, **changes}.items()}
    return Primary(flux_wb=flux, inductance_h=inductance, turns=120.0, **arrays)


def cut(rpm: float, steps: int = STEPS, **changes: float) -> tuple[float, float, float]:
    made = break_of(machine(**changes), np.array([rpm]), SHAPE, steps)
    return float(made.fires[0]), float(made.current_a[0]), float(made.angle_deg[0])


def threshold(**changes: float) -> float:
    speeds = np.geomspace(60.0, 4000.0, 300)
    fires = break_of(machine(**changes), speeds, SHAPE).fires
    assert (np.diff(fires) >= 0.0).all()
    return float(speeds[fires.argmax()])


def test_flux_is_highest_when_magnets_stand_before_the_coil_and_reversed_beside_it() -> None:
    angle = np.linspace(-60.0, 60.0, 2401)
    flux = SHAPE.flux(angle)
    assert abs(float(angle[flux.argmax()])) < 3.0
    assert flux.max() == pytest.approx(1.0, abs=0.01)
    assert flux.min() == pytest.approx(-0.3, abs=0.04)


def test_the_slope_is_the_derivative_of_the_flux() -> None:
    angle = np.linspace(-45.0, 45.0, 1801)
    np.testing.assert_allclose(np.gradient(SHAPE.flux(angle), angle)[1:-1], SHAPE.slope(angle)[1:-1], atol=2e-4)


@given(gap=st.floats(0.1, 2.0), more=st.floats(0.01, 1.0), strength=st.floats(0.4, 1.3))
def test_a_wider_gap_or_weaker_magnets_give_less_flux(gap: float, more: float, strength: float) -> None:
    def flux(g: float, s: float) -> float:
        return float(core_flux_and_inductance(np.array([g]), np.array([s]), np.array([0.38]), 120.0)[0][0])

    assert flux(gap + more, strength) < flux(gap, strength)
    assert flux(gap, 0.9 * strength) == pytest.approx(0.9 * flux(gap, strength))


def test_below_a_threshold_speed_nothing_fires_and_above_it_everything() -> None:
    assert 200.0 < threshold() < 260.0


def test_weak_magnets_wide_gaps_and_bad_joints_ask_for_a_faster_spin() -> None:
    plain = threshold()
    assert threshold(strength=0.7) > 1.5 * plain
    assert threshold(gap=1.2) > 1.1 * plain
    assert threshold(resistance_ohm=2.5) > 1.5 * plain
    assert threshold(trigger_a=2.48 * 1.6) > 1.2 * plain


def test_a_leaking_stop_lead_hardly_moves_the_threshold_speed() -> None:
    assert threshold(shunt_ohm=30.0) < 1.06 * threshold()


def test_a_dead_short_of_the_stop_lead_keeps_the_switch_from_carrying_anything() -> None:
    fires, current, _ = cut(3000.0, shunt_ohm=0.05)
    assert (fires, current) == (0.0, 0.0)


@settings(max_examples=40)
@given(rpm=st.floats(300.0, 4000.0), ohm=st.floats(1.0, 3.0), more=st.floats(1.05, 50.0))
def test_more_leak_never_leaves_more_current_to_cut(rpm: float, ohm: float, more: float) -> None:
    assert cut(rpm, shunt_ohm=10.0**ohm)[1] <= cut(rpm, shunt_ohm=more * 10.0**ohm)[1] + 1e-6


@settings(max_examples=25)
@given(rpm=st.floats(260.0, 3600.0), ohm=st.sampled_from([8.0, 50.0, 1e6]))
def test_the_usual_steps_are_as_good_as_many(rpm: float, ohm: float) -> None:
    coarse, fine = cut(rpm, shunt_ohm=ohm), cut(rpm, steps=1280, shunt_ohm=ohm)
    assert coarse[0] == fine[0]
    assert coarse[1] == pytest.approx(fine[1], rel=0.01)
    assert coarse[2] == pytest.approx(fine[2], abs=0.1)


@pytest.mark.parametrize(("rpm", "ohm"), [(300.0, 1e6), (600.0, 1e6), (1500.0, 60.0), (3000.0, 15.0)])
def test_the_march_agrees_with_a_general_solver(rpm: float, ohm: float) -> None:
    p = machine(shunt_ohm=ohm)
    speed = 6.0 * rpm
    on_v, on_ohm = float(p.on_v[0]), float(p.on_ohm[0])
    inductance, resistance = float(p.inductance_h[0]), float(p.resistance_ohm[0])

    def carried(current: float) -> float:
        return max((current - on_v / ohm) / (1.0 + on_ohm / ohm), 0.0)

    def slope(time: float, state: FloatArray) -> list[float]:
        angle = np.array([-SHAPE.edge - 4.0 * SHAPE.width + speed * time])
        emf = 120.0 * float(p.flux_wb[0]) * speed * float(SHAPE.slope(angle)[0])
        through = carried(state[0])
        across = on_v + on_ohm * through if through > 0.0 else ohm * state[0]
        rising = (emf - resistance * state[0] - across) / inductance
        if state[0] <= 0.0 and rising < 0.0:
            rising = 0.0
        return [rising, (through - state[1]) / (constants.value("trigger_delay_ms") * 1e-3)]

    class Opens:
        """The solver stops where this crosses zero."""

        terminal = True

        def __call__(self, _: float, state: FloatArray) -> float:
            return float(state[1] - p.trigger_a[0])

    end = (SHAPE.edge + 4.0 * SHAPE.width) / speed
    solved = solve_ivp(
        slope, (0.0, end), [0.0, 0.0], method="LSODA", events=Opens(), rtol=1e-7, atol=1e-9, max_step=end / 500
    )
    fires, current, angle = cut(rpm, shunt_ohm=ohm)
    assert solved.t_events[0].size == 1
    assert fires == 1.0
    assert current == pytest.approx(carried(solved.y[0, -1]), rel=0.01)
    assert angle == pytest.approx(-SHAPE.edge - 4.0 * SHAPE.width + speed * solved.t[-1], abs=0.05)


def test_an_angle_trigger_breaks_where_it_was_set_whatever_the_speed() -> None:
    for rpm in (300.0, 900.0, 3600.0):
        fires, _, angle = cut(rpm, family=1.0, angle_deg=-5.8)
        assert fires == 1.0
        assert angle == pytest.approx(-5.8, abs=1e-6)


def test_an_angle_trigger_fires_slower_than_a_current_trigger_but_not_at_a_crawl() -> None:
    assert threshold(family=1.0) < threshold()
    assert cut(60.0, family=1.0)[0] == 0.0


def test_machines_in_a_block_do_not_touch_each_other() -> None:
    rpm = np.linspace(150.0, 3600.0, 10000)
    many = machine()
    together = break_of(many, rpm, SHAPE)
    for index in (0, 1, 8191, 8192, 9999):
        alone = break_of(many, rpm[index : index + 1], SHAPE)
        assert alone.current_a[0] == together.current_a[index]
        assert alone.angle_deg[0] == together.angle_deg[index]


def test_single_precision_gives_the_same_break() -> None:
    draw = np.random.default_rng(5)
    count = 20_000
    flux, inductance = core_flux_and_inductance(
        draw.uniform(0.1, 1.5, count), draw.uniform(0.3, 1.2, count), np.full(count, 0.38), 120.0
    )
    primary = Primary(
        flux, inductance, draw.uniform(0.5, 3.0, count), 10.0 ** draw.uniform(-1.0, 9.0, count),
        np.full(count, constants.value("trigger_on_v")), np.full(1, constants.value("trigger_on_ohm")),
        draw.uniform(1.5, 4.0, count), np.floor(draw.uniform(0.0, 2.0, count)), draw.uniform(-12.0, -2.0, count), 120.0,
    )  # fmt: skip
    rpm = np.exp(draw.uniform(np.log(100.0), np.log(4000.0), count))
    double, single = break_of(primary, rpm, SHAPE), break_of(primary, rpm, SHAPE, precision=np.float32)
    same = double.fires == single.fires
    assert same.mean() > 0.9998  # who reaches the level by a hair may miss it by a hair
    np.testing.assert_allclose(single.current_a[same], double.current_a[same], rtol=2e-4, atol=2e-4)
    np.testing.assert_allclose(single.angle_deg[same], double.angle_deg[same], atol=5e-3)
    assert np.quantile(np.abs(single.angle_deg - double.angle_deg), 0.99) < 1e-4


def test_a_flywheel_without_magnets_never_fires() -> None:
    assert cut(3600.0, strength=0.0)[0] == 0.0


def test_a_smaller_rim_spreads_the_same_edge_over_more_degrees() -> None:
    assert edge(60.0).width == pytest.approx(1.5 * edge(90.0).width)
