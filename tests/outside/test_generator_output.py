"""Generators against maker's tables (second-hand) and definitions."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import generator
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

RUNNING = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot")
LOADED = Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot", load="full")


def sound(kind: str, arrangement: Arrangement, which: str) -> float:
    sizes: dict[str, float | str] = {
        "driven_load": "generator", "generator_kind": kind, "brake": "no", "operator_presence": "no",
        "usual_top_rpm": 3720.0, "blade_inertia_kgm2": 0.06, "governor_droop": 0.06, "rated_power_w": 3500.0,
    }  # fmt: skip
    params = {"top_speed_set_rpm": np.array([3720.0])}
    return float(predict(params, sizes, Conditions(), arrangement, Setup(), [which])[which][0])


@pytest.mark.parametrize(("rpm", "pairs", "hertz"), [(3600.0, 1.0, 60.0), (3000.0, 1.0, 50.0), (1800.0, 2.0, 60.0)])
def test_hertz_follow_from_speed_and_poles(rpm: float, pairs: float, hertz: float) -> None:
    # f = p n / 60, the definition of synchronous speed (IEC 60034 vocabulary).
    assert generator.output_hz(np.array([rpm]), pairs)[0] == pytest.approx(hertz)


@pytest.mark.parametrize("kind", ["brush", "capacitor"])
def test_a_sound_set_stays_inside_a_makers_table(kind: str) -> None:
    # Two makers' manuals, second-hand: 62 Hz no load, 59-62 loaded; 63 Hz and 126 V at most without load, 108 V at
    # least at full load on 120 V sets. Half a hertz and a volt for the meter;
    # the capacitor set may fall 4 V short.
    assert 60.5 < sound(kind, RUNNING, "output_hz") < 63.0
    assert 58.5 < sound(kind, LOADED, "output_hz") < 62.0
    assert sound(kind, RUNNING, "output_v") < 127.0
    assert sound(kind, LOADED, "output_v") > 104.0


def test_a_regulated_set_keeps_its_volts_at_full_load() -> None:
    assert sound("brush", LOADED, "output_v") > 108.0


def test_one_and_a_half_volts_of_residual_are_the_edge() -> None:
    # A generator repair manual, second-hand: at least about 1.5 V, else the magnetism is lost.
    below, above = generator.builds_up(np.array([0.8, 2.5]), np.ones(2))
    assert below < 0.1
    assert above > 0.9


def test_usual_residual_volts_lie_where_the_trade_finds_them() -> None:
    # 2-5 V at the outlet on a sound brush set, common practice, no source.
    assert 1.5 < sound("brush", RUNNING, "residual_v") < 8.0


def test_an_inverter_makes_its_own_hertz() -> None:
    assert sound("inverter", LOADED, "output_hz") == 60.0
