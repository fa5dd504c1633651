"""Mixture strength against chemistry, the standard atmosphere and published limits."""

from __future__ import annotations

import ambiance
import numpy as np
import pytest

from firstpull.engine import atmosphere, carburettor, constants, fuel, mixture

# Standard atomic weights, abridged (IUPAC 2021); air by volume 0.2095 oxygen, molar mass 28.965 g/mol.
C, H, O = 12.011, 1.008, 15.999
AIR_PER_OXYGEN = 28.965 / 0.2095


def air_fuel(carbon: float, hydrogen: float, oxygen: float = 0.0) -> float:
    needed = carbon + hydrogen / 4.0 - oxygen / 2.0
    return needed * AIR_PER_OXYGEN / (carbon * C + hydrogen * H + oxygen * O)


def volume_share(phi: float, molar_g: float, ratio: float) -> float:
    """Vapour in air by volume at this strength."""
    moles = phi * 28.965 / (ratio * molar_g)
    return moles / (1.0 + moles)


def test_the_balance_gives_the_textbook_ratios() -> None:
    # Heywood 1988, appendix D (from memory): isooctane 15.13, ethanol 9.00.
    assert air_fuel(8, 18) == pytest.approx(15.13, abs=0.05)
    assert air_fuel(2, 6, 1) == pytest.approx(9.00, abs=0.03)


@pytest.mark.parametrize(("ethanol", "expected"), [(0.0, air_fuel(1, 1.87)), (1.0, air_fuel(2, 6, 1))])
def test_petrol_and_ethanol_need_what_the_balance_says(ethanol: float, expected: float) -> None:
    assert fuel.stoichiometric_ratio(np.array([ethanol]))[0] == pytest.approx(expected, abs=0.05)


def test_ten_per_cent_ethanol_runs_a_fixed_jet_four_per_cent_lean() -> None:
    ratio = fuel.stoichiometric_ratio(np.array([0.0, 0.1]))
    assert 14.0 <= ratio[1] <= 14.1  # balance by mass of the blend
    assert ratio[1] / ratio[0] == pytest.approx(0.96, abs=0.005)


@pytest.mark.parametrize(("metres", "expected"), [(500.0, 1.024), (1500.0, 1.076), (3000.0, 1.161)])
def test_altitude_enriches_a_fixed_jet(metres: float, expected: float) -> None:
    # Density of the standard atmosphere by another library; a carburettor goes as its inverse root.
    there = float(ambiance.Atmosphere(metres).density[0])
    assert np.sqrt(1.225 / there) == pytest.approx(expected, abs=1e-3)
    ours = atmosphere.density(atmosphere.pressure_pa(metres), atmosphere.standard_temperature_k(metres))
    assert carburettor.altitude_ratio(ours) == pytest.approx(np.sqrt(1.225 / there), abs=1e-3)


def test_the_lean_edge_of_running_is_the_lower_flammable_limit() -> None:
    # Petrol vapour in air: lower limit 1.2 % by one fire service (fireengineering.com 1988), 1.3-1.4 % by others.
    # Vapour of 105 g/mol; running needs a little more than a tube that just burns.
    edge = 100.0 * volume_share(constants.value("misfire_lean_phi"), 105.0, 14.6)
    assert 1.15 < edge < 1.45


def test_the_running_window_lies_inside_what_is_taught() -> None:
    # An aviation training page: 25:1 to 5.5:1 will burn in an engine, phi 0.58 to 2.65.
    assert mixture.burns_share(np.array([14.6 / 25.0]))[0] < 0.05
    assert mixture.burns_share(np.array([14.6 / 5.0]))[0] < 0.05
    assert np.all(mixture.burns_share(14.6 / np.array([17.0, 14.6, 12.0, 9.0])) > 0.9)


def test_the_rich_edge_lies_below_the_upper_flammable_limit() -> None:
    # Upper limit 6 to 7.6 % by volume (fire services disagree); an engine stops sooner, for want of time.
    edge = 100.0 * volume_share(constants.value("misfire_rich_phi"), 105.0, 14.6)
    assert 2.5 < edge < 7.6


def test_torque_is_best_where_textbooks_put_it_and_falls_as_they_say() -> None:
    # Heywood 1988, chapter 15 (from memory, wide): best power phi 1.1-1.2; lean 0.8 gives some 75-88 %; rich 1.4 at
    # least 85 %.
    lean, rich = mixture.torque_share(np.array([0.8, 1.4]))
    assert 0.72 < lean < 0.9
    assert 0.85 < rich < 1.0


def test_a_closed_choke_gives_about_four_to_one() -> None:
    # "AFR 4 or richer" with the choke closed, common practice in the trade's booklets, no single source.
    ratio = 14.6 / (1.12 * carburettor.choke_ratio(np.ones(1))[0])
    assert 3.0 < ratio < 5.0
