"""Generator faults as the bench sees them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement

Look = Callable[..., NDArray[np.float64]]
SPEED = {"top_speed_set_rpm": 3720.0}


def kind(name: str) -> dict[str, float | str]:
    return {
        "driven_load": "generator", "generator_kind": name, "brake": "no", "operator_presence": "no",
        "usual_top_rpm": 3720.0, "blade_inertia_kgm2": 0.06, "governor_droop": 0.06, "rated_power_w": 3500.0,
    }  # fmt: skip


@pytest.mark.parametrize("name", ["brush", "capacitor", "inverter"])
def test_a_sound_set_gives_its_volts_and_hertz(shown: Look, running: Arrangement, name: str) -> None:
    volts = shown("output_v", running, kind(name), **SPEED)[0]
    hertz = shown("output_hz", running, kind(name), **SPEED)[0]
    assert 114.0 < volts < 132.0
    assert 59.5 < hertz < 63.0
    assert shown("no_output", running, kind(name), **SPEED)[0] < 0.05
    assert shown("over_voltage", running, kind(name), **SPEED)[0] < 0.15


@pytest.mark.parametrize("name", ["brush", "capacitor"])
def test_lost_residual_magnetism_leaves_less_than_a_volt(shown: Look, running: Arrangement, name: str) -> None:
    fault = SPEED | {"residual_magnetism_share": 0.05}
    assert shown("residual_v", running, kind(name), **fault)[0] < 1.0
    assert shown("output_v", running, kind(name), **fault)[0] < 1.5


def test_a_worn_brush_leaves_residual_volts_and_reads_high(shown: Look, running: Arrangement) -> None:
    fault = SPEED | {"brush_length_mm": 1.0}
    assert 2.0 < shown("output_v", running, kind("brush"), **fault)[0] < 8.0
    assert shown("residual_v", running, kind("brush"), **fault)[0] > 2.0
    assert shown("brush_path_ohm", sizes=kind("brush"), **fault)[0] > 500.0
    assert shown("rotor_ohm", sizes=kind("brush"), **fault)[0] == pytest.approx(55.0, rel=0.05)


def test_a_dead_capacitor_leaves_residual_volts_only_on_a_capacitor_set(shown: Look, running: Arrangement) -> None:
    fault = SPEED | {"capacitor_share": 0.1}
    assert shown("output_v", running, kind("capacitor"), **fault)[0] < 8.0
    assert shown("output_v", running, kind("brush"), **fault)[0] > 110.0
    assert shown("capacitor_uf", sizes=kind("capacitor"), **fault)[0] == pytest.approx(2.8, rel=0.05)


def test_speed_moves_hertz_except_behind_an_inverter(shown: Look, running: Arrangement) -> None:
    slow = {"top_speed_set_rpm": 3200.0}
    assert shown("output_hz", running, kind("capacitor"), **slow)[0] < 56.0
    assert shown("output_hz", running, kind("inverter"), **slow)[0] == 60.0
    fast = {"top_speed_set_rpm": 4200.0}
    assert shown("over_voltage", running, kind("capacitor"), **fast)[0] > 0.9


def test_an_open_breaker_or_socket_is_dead_at_the_outlet_only(shown: Look, running: Arrangement) -> None:
    for fault in ({"breaker_open": 1.0}, {"socket_open": 1.0}):
        assert shown("output_v", running, kind("brush"), **SPEED, **fault)[0] == 0.0
        assert shown("outlet_path", **fault)[0] == 0.0
        assert shown("stator_ohm", **fault)[0] < 1.0


def test_a_stuck_regulator_is_over_voltage_and_a_dead_one_is_none(shown: Look, running: Arrangement) -> None:
    assert shown("over_voltage", running, kind("brush"), **SPEED, regulator_over=1.0)[0] > 0.95
    assert shown("no_output", running, kind("brush"), **SPEED, regulator_gain=0.02)[0] > 0.9


def test_full_load_sags_and_a_weak_engine_sags_more(shown: Look, running: Arrangement) -> None:
    full = replace(running, load="full")
    none, loaded = (shown("output_v", at, kind("capacitor"), **SPEED)[0] for at in (running, full))
    assert 0.7 * none < loaded < 0.97 * none
    assert 3.0 < shown("voltage_sag_percent", running, kind("capacitor"), **SPEED)[0] < 30.0


def test_damp_windings_and_a_leaking_rotor_show_on_the_insulation_tester(shown: Look) -> None:
    assert shown("insulation_mohm", sizes=kind("brush"))[0] > 10.0
    assert shown("insulation_mohm", sizes=kind("brush"), insulation_share=0.003)[0] < 0.5
    assert shown("insulation_mohm", sizes=kind("brush"), rotor_leak_mohm=0.01)[0] < 0.1


def test_a_machine_without_a_generator_gives_nothing(shown: Look, running: Arrangement) -> None:
    assert shown("output_v", running)[0] == 0.0
    assert shown("no_output", running)[0] == 0.0


def test_hunting_flickers_the_lamps_except_behind_an_inverter(shown: Look, running: Arrangement) -> None:
    lean = SPEED | {"idle_jet_open": 0.5}
    assert shown("light_flicker", running, kind("brush"), **lean)[0] > 0.1
    assert shown("light_flicker", running, kind("inverter"), **lean)[0] == 0.0


@pytest.mark.parametrize("name", ["brush", "capacitor"])
def test_a_dead_set_does_not_sag_and_a_weak_engine_does(shown: Look, running: Arrangement, name: str) -> None:
    dead = {"stator_open": 1.0, **SPEED}
    assert shown("voltage_sag_percent", running, kind(name), **dead)[0] < 2.0
    assert shown("no_output", running, kind(name), **dead)[0] > 0.9
    sound, weak = shown("voltage_sag_percent", running, kind(name), main_jet_open=[1.0, 0.66], **SPEED)
    assert sound < 15.0
    assert np.isnan(weak) or weak > sound
