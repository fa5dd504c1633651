"""The way out."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import exhaust

SEA = np.full(1, 101325.0)


def opened(
    muffler: float = 0.0, screen: float = 0.0, port: float = 0.0, screen_in: bool = True, on: bool = True
) -> float:
    one = np.ones(1)
    return float(exhaust.open_share(one * muffler, one * screen, one * port, screen_in, on)[0])


def back(open_share: float) -> float:
    return float(exhaust.back_pressure(np.full(1, open_share), 120.0, 160e-6, 3000.0, 2.0, SEA)[0])


def test_a_clean_way_out_is_the_measure() -> None:
    assert opened() == pytest.approx(1.0)


def test_each_blockage_closes_the_way_out() -> None:
    assert opened(muffler=0.8) < 0.4
    assert opened(screen=0.9) < 0.4
    assert opened(port=0.7) < 0.7


def test_taking_the_blocked_screen_out_cures_only_the_screen() -> None:
    assert opened(screen=0.95, screen_in=False) > 1.0
    assert opened(muffler=0.9, screen_in=False) < 0.2


def test_a_screen_does_nothing_without_its_muffler() -> None:
    assert opened(screen=0.99, on=False) == opened(on=False)


def test_back_pressure_rises_and_stays_possible() -> None:
    pressures = [back(share) for share in (1.0, 0.5, 0.25, 0.05)]
    assert pressures == sorted(pressures)
    assert 1e3 < pressures[0] < 6e3
    assert pressures[-1] < 1.3e5


def test_burnt_gas_stays_when_it_cannot_leave() -> None:
    clean = exhaust.residual(np.full(1, 3e3), SEA, np.ones(1))[0]
    assert exhaust.residual(np.full(1, 40e3), SEA, np.ones(1))[0] > 2.0 * clean
    assert exhaust.residual(np.full(1, 3e3), SEA, np.zeros(1))[0] > 0.8


def test_back_pressure_costs_power() -> None:
    clean = exhaust.power_left(np.full(1, 3e3), SEA, np.full(1, 0.1))[0]
    assert exhaust.power_left(np.full(1, 50e3), SEA, np.full(1, 0.35))[0] < 0.75 * clean
