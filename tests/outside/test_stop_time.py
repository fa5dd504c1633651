"""Blade: stop time by another integrator, the legal limit, tip speed, energy and balance."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from firstpull.engine import blade_stop, driven_load
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

LEGAL_S = 3.0  # 16 CFR 1205.5(a)(1)(iii): the blade must stop within 3.0 seconds after release of the control.


class Below:
    """Ends an integration when the first state has come down to a level."""

    terminal = True

    def __init__(self, level: float) -> None:
        self.level = level

    def __call__(self, _: float, state: list[float]) -> float:
        return state[0] - self.level


def integrated(inertia: float, speed: float, torque: float, windage: float) -> float:
    def change(_: float, state: list[float]) -> list[float]:
        return [-(torque + windage * state[0] ** 2) / inertia]

    return float(solve_ivp(change, (0.0, 100.0), [speed], events=Below(0.0), rtol=1e-10, atol=1e-10).t_events[0][0])


def ours(inertia: float, speed: float, torque: float, windage: float) -> float:
    return float(blade_stop.stop_time_s(*(np.array([v]) for v in (inertia, speed, torque, windage)))[0])


@pytest.mark.parametrize("inertia", [0.012, 0.03, 0.08])
@pytest.mark.parametrize("torque", [0.8, 3.0, 6.0])
@pytest.mark.parametrize("windage", [1e-6, 4.5e-6, 4e-5])
def test_stop_time_agrees_with_a_numerical_run_down(inertia: float, torque: float, windage: float) -> None:
    assert ours(inertia, 322.0, torque, windage) == pytest.approx(integrated(inertia, 322.0, torque, windage), rel=1e-6)


def test_two_worked_stop_times() -> None:
    assert ours(0.03, 322.0, 5.0, 4.5e-6) == pytest.approx(1.87506, abs=1e-5)
    assert ours(0.03, 322.0, 5.0, 1e-12) == pytest.approx(1.93200, abs=1e-5)  # J w / T


def test_the_torque_that_just_meets_the_law() -> None:
    # 0.033 kg m2 from 3300 r/min in 3.0 s needs J w / t = 3.80 N m without air drag.
    assert ours(0.033, 3300.0 * np.pi / 30.0, 3.801, 1e-12) == pytest.approx(LEGAL_S, abs=2e-3)


def test_the_usual_mower_is_held_to_the_law_and_sound_ones_meet_it() -> None:
    assert SIZES["stop_limit_s"].default == LEGAL_S
    shares = (np.arange(400) + 0.5) / 400
    draw = np.random.default_rng(3)
    params = {
        name: PARAMETERS[name].healthy.quantile(draw.permutation(shares))
        for name in ("brake_pad_wear", "brake_spring_share", "brake_drag_nm", "top_speed_set_rpm")
    }
    running = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot")
    times = predict(params, {}, Conditions(), running, Setup(), ["stop_time_s"])["stop_time_s"]
    assert np.mean(times < LEGAL_S) > 0.995
    assert 1.0 < np.median(times) < 2.5


def test_a_worn_out_brake_breaks_the_law() -> None:
    running = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot")
    params = {"brake_pad_wear": np.ones(1)}
    assert predict(params, {}, Conditions(), running, Setup(), ["stop_time_s"])["stop_time_s"][0] > LEGAL_S


@pytest.mark.parametrize(("inches", "rpm"), [(20, 3629), (21, 3456), (22, 3299)])
def test_tip_speed_limit_in_turns(inches: int, rpm: int) -> None:
    # 19,000 ft/min = 96.52 m/s (ANSI B71.1, second-hand; the conversion is arithmetic).
    speed = driven_load.tip_speed_m_s(inches * 25.4, np.array([float(rpm)]))[0]
    assert speed == pytest.approx(19000.0 * 0.3048 / 60.0, abs=0.03)


def test_a_sound_mower_stays_under_the_tip_speed_limit() -> None:
    running = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot")
    params = {"top_speed_set_rpm": PARAMETERS["top_speed_set_rpm"].healthy.quantile(np.array([0.999]))}
    assert predict(params, {}, Conditions(), running, Setup(), ["tip_speed_m_s"])["tip_speed_m_s"][0] < 96.52


def test_energy_of_a_bar_blade() -> None:
    # A public worked problem: 0.65 kg, 0.55 m, 3450 r/min: 1069 J (jiskha 1319416343).
    inertia = driven_load.bar_inertia_kgm2(np.array([0.65]), np.array([550.0]))
    assert driven_load.turning_energy_j(inertia, np.array([3450.0]))[0] == pytest.approx(1069.0, abs=1.0)


def test_permissible_imbalance_of_grade_16() -> None:
    # ISO 21940-11: grade = offset times turning speed; G16, 1.1 kg, 3100 r/min.
    assert driven_load.permissible_gmm(16.0, np.array([1.1]), np.array([3100.0]))[0] == pytest.approx(54.2, abs=0.1)
