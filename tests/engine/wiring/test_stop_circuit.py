"""Stop circuit on whole machines: dead when it should run, runs when it should stop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Arrangement
from tests.engine.healthy_mowers import AT_TESTER, HELD, LEAD_OFF, RUNNING, lit, shown, with_fault

METERED = Arrangement(off=frozenset({"stop-lead"}), added=HELD)
LET_GO = Arrangement(off=frozenset({"stop-lead"}))


def test_the_stop_tab_is_under_one_ohm_let_go_and_open_held() -> None:
    assert float((shown("stop_tab_ohm", arrangement=LET_GO) < 1.0).mean()) > 0.99
    assert float((shown("stop_tab_ohm", arrangement=METERED) > 1e5).mean()) > 0.98
    np.testing.assert_array_equal(
        shown("stop_tab_released_ohm", arrangement=METERED), shown("stop_tab_ohm", arrangement=LET_GO)
    )


def test_the_lead_still_on_the_coil_hides_a_leak_behind_the_primary() -> None:
    fault = with_fault(stop_lead_ohm=50.0)
    plugged = shown("stop_tab_ohm", fault, Arrangement(added=HELD))
    assert float(plugged.max()) < 2.5
    np.testing.assert_allclose(shown("stop_tab_ohm", fault, METERED), 50.0, rtol=0.01)


def test_a_control_not_held_darkens_a_healthy_mower() -> None:
    not_held = replace(AT_TESTER, added=AT_TESTER.added - HELD)
    assert lit(None, not_held) == 0.0
    assert lit(with_fault(control_slips=1.0)) == 0.0
    # With the lead off only the brake is left, which a drill overcomes and a rope hardly.
    assert lit(None, replace(not_held, off=frozenset({"stop-lead"}), drive="drill")) > 0.99


@pytest.mark.parametrize(
    "draws",
    [
        {"stop_switch_open_ohm": Spread("log-uniform", 0.05, 2.0)},
        {"control_open_travel": Spread("uniform", 0.1, 0.5)},
        {"brake_cable_slack_mm": 19.0},
    ],
    ids=["switch stuck closed", "cable too short", "cable too slack"],
)
def test_a_switch_that_does_not_open_is_dark_until_the_lead_is_off(draws: dict[str, Spread | float]) -> None:
    fault = with_fault(**draws)
    assert lit(fault) < 0.02
    assert float((shown("stop_tab_ohm", fault, METERED) < 5.0).mean()) > 0.98


def test_healthy_mowers_stop_when_let_go() -> None:
    assert float(np.nanmin(shown("stops_on_release", arrangement=RUNNING))) > 0.97


@pytest.mark.parametrize(
    "draws",
    [
        {"stop_switch_closed_ohm": Spread("log-uniform", 20.0, 1e7)},
        {"control_return": 0.2},
        {"stop_lead_series_ohm": 1e9},
        {"coil_earth_ohm": 7.0, "magnet_strength": 1.1},
    ],
    ids=["switch does not close", "cable sticks", "lead broken", "coil not earthed"],
)
def test_what_keeps_the_stop_circuit_open_lets_it_run_on(draws: dict[str, Spread | float]) -> None:
    runs_on = shown("will_not_stop", with_fault(**draws), RUNNING)
    ran = runs_on[~np.isnan(runs_on)]
    assert ran.size > 0.5 * runs_on.size
    assert float((ran > 0.5).mean()) > 0.95


def test_one_ohm_stops_and_ten_ohms_do_not() -> None:
    good = shown("stops_on_release", with_fault(stop_switch_closed_ohm=1.0), RUNNING)
    bad = shown("stops_on_release", with_fault(stop_switch_closed_ohm=10.0), RUNNING)
    assert float(np.nanmean(good)) > 0.95
    assert float(np.nanmean(bad)) < 0.2


def test_more_contact_resistance_never_stops_it_better() -> None:
    chances = [
        float(np.nanmean(shown("stops_on_release", with_fault(stop_switch_closed_ohm=ohm), RUNNING)))
        for ohm in (0.2, 1.0, 2.0, 3.0, 5.0, 10.0, 100.0)
    ]
    assert (np.diff(chances) <= 1e-9).all()


def test_an_unplugged_stop_lead_means_it_cannot_be_stopped() -> None:
    loose = replace(RUNNING, off=frozenset({"stop-lead"}))
    assert float(np.nanmax(shown("stops_on_release", arrangement=loose))) < 0.01


LOW_OIL: dict[str, float | str] = {"low_oil_switch": "yes"}


def test_the_low_oil_switch_reads_open_at_full_oil_and_closed_drained() -> None:
    still = Arrangement(off=frozenset({"low-oil-lead"}))
    full = shown("low_oil_ohm", arrangement=still, sizes=LOW_OIL)
    drained = shown("low_oil_ohm", arrangement=replace(still, off=still.off | {"oil"}), sizes=LOW_OIL)
    assert float((full > 1e4).mean()) > 0.98
    assert float((drained < 2.0).mean()) > 0.98


def test_a_false_trip_of_the_low_oil_switch_is_dark_until_its_lead_is_off() -> None:
    fault = with_fault(low_oil_full_ohm=Spread("log-uniform", 0.05, 2.0))
    dark = shown("tester_margin", fault, AT_TESTER, LOW_OIL)
    back = shown("tester_margin", fault, replace(AT_TESTER, off=frozenset({"low-oil-lead"})), LOW_OIL)
    assert float((dark > 1.0).mean()) == 0.0
    assert float((back > 1.0).mean()) > 0.99
    assert lit(fault) > 0.99  # a class without the switch does not know the fault


def test_really_low_oil_cuts_the_spark_too() -> None:
    fault = with_fault(oil_level_mm=-35.0)
    assert float(shown("low_oil_cuts", fault, AT_TESTER, LOW_OIL).min()) > 0.9
    assert float((shown("tester_margin", fault, AT_TESTER, LOW_OIL) > 1.0).mean()) == 0.0
    assert float(shown("low_oil_cuts", arrangement=AT_TESTER, sizes=LOW_OIL).max()) < 0.1


LOCKED: dict[str, float | str] = {"interlocks": "yes", "operator_presence": "no", "brake": "no"}


def test_an_interlock_that_does_not_open_darkens_and_one_that_does_not_close_runs_on() -> None:
    stuck = with_fault(interlock_run_ohm=0.5)
    assert float((shown("tester_margin", stuck, AT_TESTER, LOCKED) > 1.0).mean()) == 0.0
    assert float((shown("tester_margin", stuck, LEAD_OFF, LOCKED) > 1.0).mean()) > 0.99
    both_open = with_fault(interlock_stop_ohm=1e9, control_return=0.0)
    assert float(np.nanmean(shown("will_not_stop", both_open, RUNNING, LOCKED))) > 0.95


def test_interlock_readings_are_the_switches_themselves() -> None:
    for name in ("interlock_run_ohm", "interlock_stop_ohm", "interlock_start_ohm"):
        assert (shown(name, with_fault(**{name: 7.0}), Arrangement(), LOCKED) == 7.0).all()
