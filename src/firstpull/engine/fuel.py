"""Fuel on its way to the carburettor, and what is left of its power to evaporate."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]

GRAVITY = 9.80665
AIR_DENSITY = 1.2
# Vapour pressure left over mass lost, batch evaporation of an ideal mixture (worked out with the saturation
# pressures of CoolProp in tests/outside/test_fuel_volatility.py).
_LOST = np.array([0.0, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8636, 1.0])
_LOG_LEFT = np.log(np.array([1.0, 0.845, 0.698, 0.449, 0.280, 0.127, 0.030, 0.005]))
_OPEN_DISH_POWER = 0.69


def volatility_left(lost_share: FloatArray) -> FloatArray:
    """Vapour pressure of weathered petrol over that of the same petrol fresh.

    A well stirred ideal mixture loses its light end first; an open dish that nobody stirs keeps more of it.
    The geometric middle of the two is taken.

    Args:
        lost_share: share of the mass that has evaporated [1], shape (N,).

    Returns:
        Vapour pressure over the fresh one [1], shape (N,).

    Valid: 0 to 0.95 lost.
    Source: stirred bound: Raoult's law; open-dish bound: power through the end point of Zhu et al. 2012, Fuel
        (38 to 9.6 kPa at 86.4 % lost); middle: judgement.
    """
    lost = np.clip(lost_share, 0.0, 0.995)
    stirred = np.interp(lost, _LOST, _LOG_LEFT)
    return np.asarray(np.exp(0.5 * (stirred + _OPEN_DISH_POWER * np.log1p(-lost))))


def tank_lost_share(fuel_age_d: FloatArray, tank_litre: float) -> FloatArray:
    """Share of its mass that the fuel in a shut tank has lost: by breathing, and through plastic, hose and cap.

    Args:
        fuel_age_d: days since the fuel was bought [d], shape (N,).
        tank_litre: full tank [L], scalar.

    Returns:
        Share lost [1], shape (N,).

    Valid: tank a little over half full on the average, cap shut; 0.2 to 15 L.
    Source: exponential loss. Breathing: see the constants file. Walls and hose: tanks of uncontrolled plastic about
        10 g/m2 a day (United States, preamble to 40 CFR 1060, from memory) on some 0.04 m2; judgement.
    """
    grams = constants.value("tank_fill_share") * tank_litre * constants.value("fuel_density_kg_m3")
    rate = constants.value("breathing_loss_per_day") + constants.value("tank_loss_g_day") / grams
    return np.asarray(-np.expm1(-rate * fuel_age_d))


def bowl_lost_share(fuel_age_d: FloatArray) -> FloatArray:
    """Share of its mass that the fuel in a vented bowl has lost while the machine stood.

    The needle tops the bowl up with what the vent takes, so the heavy end gathers there: after as much has evaporated
    as the bowl holds, what lies in it is what is left of two bowls.

    Args:
        fuel_age_d: days since the fuel was bought [d], shape (N,).

    Returns:
        Share lost since it came from the tank [1], shape (N,).

    Valid: float bowls with an open vent; fuel younger than a month counts as in use.
    Source: mass balance of a stirred bowl that is topped up. Rate: walk-behind mowers may lose about 1 g a day by
        evaporation (California, title 13, section 2754, from memory); a fifth of it from 26 g of bowl: judgement.
    """
    stood = np.maximum(fuel_age_d - constants.value("in_use_d"), 0.0) / constants.value("bowl_dries_d")
    return np.asarray(stood / (1.0 + stood))


def vapour_pressure_kpa(rvp_kpa: FloatArray, fuel_c: FloatArray) -> FloatArray:
    """Vapour pressure of petrol at a temperature.

    Args:
        rvp_kpa: vapour pressure at 37.8 C [kPa], shape (N,).
        fuel_c: fuel temperature [C], shape (N,).

    Returns:
        Vapour pressure [kPa], shape (N,).

    Valid: 0 to 70 C.
    Source: exponential with the slope of the constants file, from memory.
    """
    return rvp_kpa * np.exp(constants.value("vapour_pressure_slope") * (fuel_c - 37.8))


def evaporated_share(supply_phi: FloatArray, fuel_c: FloatArray, rvp_kpa: FloatArray, air_kpa: float) -> FloatArray:
    """Share of the fuel that is vapour when fuel and air of this strength are in equilibrium.

    Args:
        supply_phi: fuel supplied to the air, as a ratio to the right one [1], shape (N,).
        fuel_c: temperature of the mixture [C], shape (N,).
        rvp_kpa: vapour pressure of the fuel at 37.8 C [kPa], shape (N,).
        air_kpa: air pressure [kPa], scalar.

    Returns:
        Share evaporated [1], shape (N,).

    Valid: supply 0.3 to 12, -20 to 60 C, 2 to 100 kPa.
    Source: fitted to equilibrium flashes of an eleven-component petrol (Raoult, saturation pressures of
        CoolProp), worst point 0.064, rms 0.015; see tests/outside/test_fuel_volatility.py.
    """
    volatile = np.log(np.clip(rvp_kpa, 1.0, 200.0) / 62.0 * 101.325 / air_kpa)
    supply = np.log(np.clip(supply_phi, 0.2, 20.0) / 3.65)
    warm = np.clip(fuel_c, -30.0, 70.0)
    score = (
        -0.6518 + 0.04491 * warm + 0.45447 * volatile - 0.00163 * warm * volatile - 0.76917 * supply
        - 0.01489 * warm * supply + 0.02645 * volatile * supply
        + 0.00035 * warm**2 - 0.11544 * volatile**2 + 0.08692 * supply**2
    )  # fmt: skip
    return np.asarray(np.minimum(1.08 / (1.0 + np.exp(-score)), 1.0))


def stoichiometric_ratio(ethanol_share: FloatArray) -> FloatArray:
    """Air that a kilogram of blended petrol needs.

    Args:
        ethanol_share: share of ethanol by volume [1], shape (N,).

    Returns:
        Air-fuel ratio by mass [1], shape (N,).

    Valid: 0 to 1.
    Source: balance of CH1.87 (14.60) and ethanol (9.00), arithmetic; densities 745 and 789 kg/m3 from memory.
    """
    ethanol_mass = 789.0 * ethanol_share
    petrol_mass = 745.0 * (1.0 - ethanol_share)
    return (14.60 * petrol_mass + 9.00 * ethanol_mass) / (petrol_mass + ethanol_mass)


def gravity_flow_share(open_shares: dict[str, FloatArray], head_share: FloatArray) -> FloatArray:
    """Flow of a gravity feed over the flow of a sound one, as resistances in a row.

    Args:
        open_shares: free share by place, keys needle, hose, filter, tap, pickup [1], shape (N,) each.
        head_share: height of fuel over the usual height [1], shape (N,).

    Returns:
        Flow over the sound flow [1], shape (N,).

    Valid: turbulent flow through small openings; shares 0 to 1.2.
    Source: orifices in series, dp ~ (Q/A)^2 (textbook); how the loss is split: judgement.
    """
    resistance = np.zeros_like(head_share)
    for place, free in open_shares.items():
        resistance = resistance + constants.value(f"{place}_loss_share") / np.clip(free, 1e-4, None) ** 2
    return np.sqrt(np.clip(head_share, 0.0, None) / resistance)


def lasting_flow_ml_min(flow_ml_min: FloatArray, vent_mm2: FloatArray, head_mm: FloatArray) -> FloatArray:
    """Flow that lasts once the tank can only breathe through its vent.

    Args:
        flow_ml_min: flow with the cap off [mL/min], shape (N,).
        vent_mm2: open area of the vent [mm2], shape (N,).
        head_mm: height of fuel above the inlet [mm], shape (N,).

    Returns:
        Lasting flow [mL/min], shape (N,).

    Valid: small pressures, both openings turbulent.
    Source: two openings in a row share the head rho g H (textbook).
    """
    head_pa = constants.value("fuel_density_kg_m3") * GRAVITY * np.clip(head_mm, 1.0, None) * 1e-3
    speed = np.sqrt(2.0 * head_pa / AIR_DENSITY)
    vent_flow = constants.value("vent_discharge") * vent_mm2 * 1e-6 * speed * 60e6
    return 1.0 / np.sqrt(1.0 / np.clip(flow_ml_min, 1e-9, None) ** 2 + 1.0 / np.clip(vent_flow, 1e-9, None) ** 2)


def shut_cap_release_ml(headspace_l: FloatArray, head_mm: FloatArray, air_kpa: float) -> FloatArray:
    """Fuel that runs out of a tank with a shut vent before the suction above it holds the rest.

    Args:
        headspace_l: air above the fuel [L], shape (N,).
        head_mm: height of fuel above the inlet [mm], shape (N,).
        air_kpa: air pressure [kPa], scalar.

    Returns:
        Fuel released [mL], shape (N,).

    Valid: small against the head space.
    Source: isothermal expansion dV = V rho g H / p (textbook).
    """
    head_pa = constants.value("fuel_density_kg_m3") * GRAVITY * head_mm * 1e-3
    return headspace_l * 1e3 * head_pa / (air_kpa * 1e3)


def bowl_fill(trickle_ml_min: FloatArray, bowl_ml: float, minutes: float) -> FloatArray:
    """How full a bowl or metering chamber gets between two tries.

    Args:
        trickle_ml_min: flow past the inlet needle [mL/min], shape (N,).
        bowl_ml: full bowl [mL], scalar.
        minutes: time in which it flows: standing under a tank, only while pulled or primed with a pump [1], scalar.

    Returns:
        Share of a full bowl [1], shape (N,).

    Valid: the bowl was run dry at the last try.
    Source: balance of volumes, the needle shutting when full.
    """
    return np.clip(trickle_ml_min * minutes / bowl_ml, 0.0, 1.0)


def starves_after_s(bowl_ml: FloatArray, demand_ml_min: FloatArray, lasting_ml_min: FloatArray) -> FloatArray:
    """Time until a bowl runs empty.

    Args:
        bowl_ml: fuel that can be drawn down [mL], shape (N,).
        demand_ml_min: fuel that the engine draws [mL/min], shape (N,).
        lasting_ml_min: fuel that keeps coming [mL/min], shape (N,).

    Returns:
        Time [s], shape (N,); 3600 where supply keeps up.

    Valid: constant draw.
    Source: balance of volumes.
    """
    unending = constants.value("unending_s")
    short = demand_ml_min - lasting_ml_min
    time = 60.0 * bowl_ml / np.clip(short, 1e-6, None)
    return np.minimum(np.where(short > 0.0, time, unending), unending)


def vapour_lock_chance(rvp_kpa: FloatArray, fuel_c: FloatArray, air_kpa: float) -> FloatArray:
    """Chance that bubbles stop the fuel in a hot line or bowl.

    Args:
        rvp_kpa: vapour pressure of the fuel at 37.8 C [kPa], shape (N,).
        fuel_c: temperature of line and bowl [C], shape (N,).
        air_kpa: air pressure [kPa], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: gravity and weak pumps, where suction in the line is small.
    Source: boiling when vapour pressure passes air pressure; width: judgement.
    """
    return step_up(vapour_pressure_kpa(rvp_kpa, fuel_c), air_kpa, constants.value("vapour_lock_width_kpa"))
