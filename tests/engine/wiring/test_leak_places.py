"""Leak areas place by place."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.machine import Machine
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from firstpull.engine.wiring import leak_places
from tests.engine.cylinders import TWO_STROKE

FloatArray = NDArray[np.float64]


def machine(params: Mapping[str, float] | None = None, hot: bool = False, ports: bool = False) -> Machine:
    arrays = {name: np.full(1, value) for name, value in (params or {}).items()}
    arrangement = Arrangement(thermal="hot" if hot else "cold")
    return Machine(arrays, TWO_STROKE if ports else {}, Conditions(), arrangement, Setup(), 1)


def test_oil_seals_rings_and_not_valves() -> None:
    m = machine({"ring_leak_mm2": 1.0, "exhaust_valve_leak_mm2": 1.0})
    dry, wet = (leak_places.by_place(m, state, cranking=False) for state in (False, True))
    assert wet["filler"][0] == pytest.approx(0.35 * dry["filler"][0])
    assert wet["muffler"][0] == dry["muffler"][0]


def test_the_seating_ratio_counts_only_while_cranking() -> None:
    m = machine({"ring_leak_mm2": 1.0, "ring_seat_ratio": 2.0})
    assert leak_places.rings(m, False, cranking=True)[0] == pytest.approx(2.0 * leak_places.rings(m, False, False)[0])


def test_a_valve_that_sticks_hot_is_shut_when_cold() -> None:
    sticking = {"exhaust_hang_hot_mm": 1.0, "hot_lash_shift_mm": 0.0}
    assert leak_places.valve(machine(sticking), "exhaust")[0] < 0.1
    assert leak_places.valve(machine(sticking, hot=True), "exhaust")[0] > 20.0


def test_lash_that_closes_up_opens_the_valve_hot() -> None:
    closing = {"exhaust_lash_mm": 0.02, "hot_lash_shift_mm": -0.05}
    assert leak_places.valve(machine(closing), "exhaust")[0] < 0.1
    assert leak_places.valve(machine(closing, hot=True), "exhaust")[0] > 1.0


def test_loose_bolts_and_a_warped_head_leak_to_the_edge_only() -> None:
    m = machine({"head_bolts_loose": 0.9, "head_warp_mm": 0.4})
    assert leak_places.joint(m, "edge")[0] > 2.0
    assert leak_places.joint(m, "gallery")[0] < 0.05


def test_ports_have_no_valves_and_no_gallery() -> None:
    m = machine({"intake_valve_leak_mm2": 3.0, "head_gasket_gallery_leak_mm2": 3.0}, ports=True)
    found = leak_places.by_place(m, False, cranking=True)
    assert found["carburettor"][0] == found["muffler"][0] == found["pushrod"][0] == 0.0


def test_carbon_and_liquid_take_clearance_and_leave_some() -> None:
    plain = leak_places.clearance_m3(machine(), 0.0)[0]
    assert plain == pytest.approx(160e-6 / 7.5)
    assert leak_places.clearance_m3(machine({"combustion_carbon": 1.0}), 0.0)[0] < 0.95 * plain
    assert leak_places.clearance_m3(machine(), 500.0)[0] == pytest.approx(0.15 * plain)
