"""Fuel on its way, against independent solutions and arithmetic from first principles."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from firstpull.engine import constants, fuel


class Below:
    """Ends an integration when the first state has come down to a level."""

    terminal = True

    def __init__(self, level: float) -> None:
        self.level = level

    def __call__(self, _: float, state: list[float]) -> float:
        return state[0] - self.level


def test_a_shut_half_litre_lets_seven_millilitres_go() -> None:
    # Isothermal air over 0.2 m of petrol at 735 kg/m3: dV = V rho g H / p = 7.11 mL.
    released = fuel.shut_cap_release_ml(np.array([0.5]), np.array([200.0]), 101.325)[0]
    assert released == pytest.approx(500.0 * 735.0 * 9.80665 * 0.2 / 101325.0, rel=1e-9)
    assert released == pytest.approx(7.1, abs=0.15)


@pytest.mark.parametrize("vent_mm2", [1e-4, 1e-3, 1e-2, 0.4])
def test_lasting_flow_solves_the_two_openings_in_a_row(vent_mm2: float) -> None:
    head_pa, free = 735.0 * 9.80665 * 0.2, 130.0e-6 / 60.0
    discharge = constants.value("vent_discharge")

    def mismatch(suction: float) -> float:
        air = discharge * vent_mm2 * 1e-6 * np.sqrt(2.0 * suction / 1.2)
        return float(air - free * np.sqrt((head_pa - suction) / head_pa))

    suction = brentq(mismatch, 0.0, head_pa)
    alone = free * np.sqrt((head_pa - suction) / head_pa) * 60e6
    ours = fuel.lasting_flow_ml_min(np.array([130.0]), np.array([vent_mm2]), np.array([200.0]))[0]
    assert ours == pytest.approx(alone, rel=1e-6)


def test_a_shut_tank_followed_in_time_dies_when_the_balance_says() -> None:
    # Bowl 35 mL drawn at 11.7 mL/min while a tank with a shut vent still lets go what its air allows.
    demand, room, head_pa, free = 11.7 / 60.0, 0.5e3, 735.0 * 9.80665 * 0.2, 130.0 / 60.0

    def change(_: float, state: list[float]) -> list[float]:
        bowl, gone = state
        left = np.sqrt(max(head_pa - 101325.0 * gone / room, 0.0) / head_pa)
        inflow = min(free * left, demand) if bowl >= 35.0 else free * left
        return [inflow - demand, inflow]

    ends = solve_ivp(change, (0.0, 3600.0), [35.0, 0.0], events=Below(0.0), max_step=0.5).t[-1]
    released = fuel.shut_cap_release_ml(np.array([0.5]), np.array([200.0]), 101.325)
    ours = fuel.starves_after_s(35.0 + released, np.array([11.7]), np.zeros(1))[0]
    assert ours == pytest.approx(ends, rel=0.03)
    # Told by people: "3-4 minutes" to "about 15 minutes" (question-and-answer pages).
    assert 180.0 < ours < 900.0


def test_a_square_millimetre_of_vent_is_plenty() -> None:
    # 15 mL of fuel a minute need 15 mL of air: at 1.44 kPa through a sharp hole that is 0.0085 mm2.
    need = 15e-6 / 60.0 / (0.6 * np.sqrt(2.0 * 735.0 * 9.80665 * 0.2 / 1.2)) * 1e6
    assert need < 0.02
    lasting = fuel.lasting_flow_ml_min(np.array([130.0]), np.array([1.0]), np.array([200.0]))[0]
    assert lasting > 125.0


def test_breathing_loses_little() -> None:
    # Half a litre of air over petrol, 20 to 30 C and back each day: saturated vapour of 62 kPa petrol (molar mass
    # 66 g/mol, from memory) that the expanding air carries out; that is well under 0.2 % of half a litre a day.
    low, high = (float(fuel.vapour_pressure_kpa(np.array([62.0]), np.array([t]))[0]) for t in (20.0, 30.0))
    air_before, air_after = (101.3 - low) / 293.15, (101.3 - high) / 303.15
    carried = 0.5e-3 * (1.0 - air_after / air_before) * 0.5 * (low + high) * 1e3 * 0.066 / (8.314 * 298.0)
    share = carried / (0.5 * 0.735)
    assert share / 2.5 < constants.value("breathing_loss_per_day") < share * 2.5
