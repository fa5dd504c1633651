"""The burn: the fast laws against the fine cycle, and their directions."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine import combustion
from tests.engine.cylinders import MOWER

FloatArray = NDArray[np.float64]


def cycle(spark: FloatArray, phi: float = 1.0, rpm: float = 3000.0, leak: float = 0.0) -> tuple[float, FloatArray]:
    same = np.ones_like(spark)
    burn = combustion.burn_duration(same * phi, same * 0.08, same * rpm, same)
    heat = combustion.heat_per_kg(same * phi, same * 0.08)
    fired = combustion.fired_cycle(
        MOWER, same * 160e-6 / 7.5, same * 130.0, spark, burn, heat, same * rpm, same * leak, same * 91e3,
        same * 340.0, same * 101325.0,
    )  # fmt: skip
    return float(burn[0]), fired.work_j


@pytest.mark.parametrize("phi", [0.9, 1.0, 1.12, 1.25, 1.4])
@pytest.mark.parametrize(("reach", "tolerance"), [(0.5, 0.03), (1.1, 0.09)])
def test_the_timing_table_follows_the_fine_cycle(phi: float, reach: float, tolerance: float) -> None:
    sparks = np.arange(-40.0, 90.0, 1.0)
    burn, work = cycle(sparks, phi)
    near = np.abs(sparks - 0.445 * burn) < reach * burn
    fast = combustion.timing_share(sparks, np.full(sparks.size, burn))
    assert fast[near] == pytest.approx((work / work.max())[near], abs=tolerance)


@pytest.mark.parametrize("phi", [0.8, 1.0, 1.25])
def test_best_spark_is_within_two_degrees_of_the_fine_cycle(phi: float) -> None:
    sparks = np.arange(10.0, 50.0, 0.5)
    burn, work = cycle(sparks, phi)
    assert combustion.best_spark(np.full(1, burn))[0] == pytest.approx(sparks[work.argmax()], abs=2.0)


@pytest.mark.parametrize("rpm", [2000.0, 3000.0, 4000.0])
@pytest.mark.parametrize("leak", [0.1, 0.5, 1.0, 2.0, 4.0])
def test_the_leak_law_stays_within_five_percent_of_the_fine_cycle(rpm: float, leak: float) -> None:
    spark = np.array([23.0])
    exact = cycle(spark, rpm=rpm, leak=leak)[1] / cycle(spark, rpm=rpm)[1]
    assert combustion.leak_share(np.full(1, leak), 160e-6, rpm) == pytest.approx(exact, abs=0.05)


def test_halving_the_step_of_the_fine_cycle_changes_little() -> None:
    same = np.ones(1)
    given = (MOWER, same * 2.13e-5, same * 130.0, same * 23.0, same * 55.0, same * 2.4e6, same * 3000.0, same * 0.5,
             same * 91e3, same * 340.0, same * 101325.0)  # fmt: skip
    whole, half = combustion.fired_cycle(*given), combustion.fired_cycle(*given, step_deg=0.5)
    assert whole.work_j == pytest.approx(half.work_j, rel=0.01)
    assert whole.peak_pa == pytest.approx(half.peak_pa, rel=0.02)


def test_lean_and_diluted_charges_burn_slowly() -> None:
    phi, burnt = np.array([1.1, 0.75, 1.1]), np.array([0.08, 0.08, 0.3])
    usual, lean, diluted = combustion.burn_duration(phi, burnt, np.full(3, 3000.0), np.ones(3))
    assert lean > 1.3 * usual
    assert diluted > 1.3 * usual


def test_rich_fuel_beyond_the_air_gives_no_more_heat() -> None:
    right, rich, lean = combustion.heat_per_kg(np.array([1.0, 1.4, 0.8]), np.zeros(3))
    assert rich < right
    assert lean < right


def test_friction_makes_a_small_loss_of_work_a_larger_loss_of_torque() -> None:
    share = combustion.brake_share(np.array([1.0, 0.8, 0.2]), np.full(3, 8.6e5), 3000.0)
    assert share[0] == pytest.approx(1.0)
    assert share[1] < 0.8
    assert share[2] == 0.0


def test_only_a_late_spark_burns_into_the_exhaust() -> None:
    usual, late = combustion.late_share(np.array([23.0, -20.0]), np.full(2, 55.0))
    assert usual < 0.05
    assert late > 0.3
