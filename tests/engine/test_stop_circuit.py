"""Stop circuit as resistors and switches."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from firstpull.engine.stop_circuit import control_open_share, step_up, stop_chance, switch_ohm, tab_ohm

FloatArray = NDArray[np.float64]
OHMS = st.floats(0.05, 1e9)


def _one(value: float) -> FloatArray:
    return np.array([value])


@given(value=st.floats(-1e6, 1e6), more=st.floats(0.0, 1e3))
def test_a_step_rises_from_none_to_all(value: float, more: float) -> None:
    low, high = step_up(_one(value), 0.0, 1.0), step_up(_one(value + more), 0.0, 1.0)
    assert 0.0 <= low[0] <= high[0] <= 1.0


@given(share=st.floats(0.0, 1.0), opened=st.floats(1e3, 1e12), closed=st.floats(0.01, 100.0))
def test_a_contact_reads_between_its_closed_and_its_open_resistance(share: float, opened: float, closed: float) -> None:
    ohm = switch_ohm(_one(share), _one(opened), _one(closed))[0]
    assert closed * (1 - 1e-9) <= ohm <= opened * (1 + 1e-9)


def test_a_held_control_opens_and_a_released_one_closes() -> None:
    sound = (_one(1.0), _one(0.98))
    assert control_open_share(_one(1.0), *sound)[0] > 0.999
    assert control_open_share(_one(0.0), *sound)[0] < 0.001
    assert control_open_share(_one(1.0), _one(0.4), _one(0.98))[0] < 0.001
    assert control_open_share(_one(0.0), _one(1.0), _one(0.2))[0] > 0.999


@given(leak=OHMS, series=st.floats(0.0, 1e3), a=OHMS, b=OHMS)
def test_the_tab_reads_no_more_than_any_way_to_frame(leak: float, series: float, a: float, b: float) -> None:
    ohm = tab_ohm(_one(leak), _one(series), (_one(a), _one(b)))[0]
    assert ohm <= min(leak, series + a, series + b) * (1 + 1e-9)
    assert tab_ohm(_one(leak), _one(series), (_one(b), _one(a)))[0] == ohm


def test_a_broken_lead_leaves_only_its_own_leak() -> None:
    np.testing.assert_allclose(tab_ohm(_one(1e6), _one(1e12), (_one(0.1),)), 1e6, rtol=1e-5)


@given(volts=st.floats(0.0, 30.0), more=st.floats(0.0, 10.0))
def test_more_voltage_left_never_stops_it_better(volts: float, more: float) -> None:
    assert stop_chance(_one(volts + more), _one(5.0))[0] <= stop_chance(_one(volts), _one(5.0))[0]
