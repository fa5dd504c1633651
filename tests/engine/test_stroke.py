"""The march of a stroke through its working arrays."""

from __future__ import annotations

import numpy as np

from firstpull.engine.compression import GRID_DEG, compress
from firstpull.engine.stroke import ROWS, March, swept
from tests.engine.cylinders import MOWER, stroke


def test_the_piston_has_all_to_sweep_at_the_bottom_and_nothing_at_the_top() -> None:
    assert swept(np.array([180.0]), MOWER)[0] == MOWER.displacement_m3
    assert swept(np.array([0.0]), MOWER)[0] == 0.0
    assert (np.diff(swept(np.linspace(0.0, 180.0, 91), MOWER)) > 0.0).all()


def test_working_arrays_that_were_used_before_leave_no_trace() -> None:
    room = np.empty((ROWS, 4))
    room[:] = np.nan
    leaks = stroke(4, leak_mm2=np.array([0.1, 0.5, 2.0, 9.0]), release_mm2=7.0)
    first = March(leaks, MOWER, GRID_DEG, room).run(None)
    March(stroke(3, leak_mm2=50.0, speed_rpm=90.0), MOWER, GRID_DEG, room).run(None)
    again = March(leaks, MOWER, GRID_DEG, room).run(None)
    np.testing.assert_array_equal(first, again)
    np.testing.assert_array_equal(first[0], compress(leaks, MOWER).peak_pa)


def test_a_march_that_is_looked_at_ends_where_one_that_is_not_does() -> None:
    made, room = stroke(2, leak_mm2=np.array([0.2, 3.0])), np.empty((ROWS, 2))
    table = np.empty((2, len(GRID_DEG), 2))
    looked = March(made, MOWER, GRID_DEG, room).run(table)
    np.testing.assert_array_equal(looked, March(made, MOWER, GRID_DEG, room).run(None))
    np.testing.assert_array_equal(table[0, -1], looked[1])


def test_a_stroke_in_which_nothing_closes_stays_at_the_inlet() -> None:
    open_all_the_way = stroke(2, begin_deg=np.zeros(2), inlet_pa=98e3)
    ended = March(open_all_the_way, MOWER, GRID_DEG, np.empty((ROWS, 2))).run(None)
    np.testing.assert_allclose(ended[1], 98e3, rtol=1e-12)
    np.testing.assert_allclose(ended[3], 1.0)
