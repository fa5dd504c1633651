"""Wires mixture strength at the start, at idle and at load, and what people see of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import atmosphere, carburettor, constants, fuel, mixture, starting
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.wiring.fuel import air_kpa, fuel_c, in_the_fuel
from firstpull.engine.wiring.variants import with_choke

FloatArray = NDArray[np.float64]
_DESIGN_ETHANOL = 0.05


def _common(m: Machine) -> FloatArray:
    """What makes every circuit richer or leaner alike: air, fuel, air bleed, metering side."""
    air_k = m.conditions.air_c + 273.15
    thin = carburettor.altitude_ratio(atmosphere.density(air_kpa(m) * 1e3, air_k))
    needs = fuel.stoichiometric_ratio(in_the_fuel(m, "ethanol_share"))
    design = fuel.stoichiometric_ratio(np.full(1, _DESIGN_ETHANOL))
    bleed = 1.0 + constants.value("bleed_gain") * (1.0 - m.parameter("air_bleed_open"))
    return m.parameter("mixture_trim") * thin * needs / design * bleed * m.quantity("metering_share")


def _screw(m: Machine, name: str, gain: str) -> FloatArray:
    if m.trait("mixture_screws") == "no":
        return np.ones(m.count)
    return np.clip(1.0 + constants.value(gain) * m.parameter(name), 0.1, 2.5)


@rule("main_base_phi")
def main_base_phi(m: Machine) -> FloatArray:
    """Strength of the main circuit, choke and overflow aside."""
    extra = np.zeros(m.count)
    if m.trait("bowl_vent") == "outside":
        extra = 1e3 * m.quantity("filter_drop_kpa") - constants.value("filter_drop_pa")
    level = m.parameter("float_level_mm") if m.trait("carburettor") == "float" else np.zeros(m.count)
    lift = carburettor.suction_ratio(constants.value("venturi_pa"), extra, level)
    leak = carburettor.leak_ratio(m.quantity("intake_leak_mm2"), m.size("throat_mm"), "main_leak_share")
    screw = _screw(m, "main_screw_turns", "main_screw_gain")
    return m.size("design_phi") * _common(m) * m.quantity("main_free") * lift * leak * screw


@rule("idle_base_phi")
def idle_base_phi(m: Machine) -> FloatArray:
    """Strength of the idle circuit, choke and overflow aside."""
    level = m.parameter("float_level_mm") if m.trait("carburettor") == "float" else np.zeros(m.count)
    lift = carburettor.suction_ratio(constants.value("idle_hole_pa"), np.zeros(m.count), level)
    leak = carburettor.leak_ratio(m.quantity("intake_leak_mm2"), m.size("throat_mm"), "idle_leak_share")
    screw = _screw(m, "idle_screw_turns", "idle_screw_gain")
    return m.size("design_idle_phi") * _common(m) * m.quantity("idle_free") * lift * leak * screw


def _run(m: Machine, base: str, overflow: str, gain: FloatArray) -> FloatArray:
    if any(m.off(token) for token in ("fuel", "fuel-hose", "bowl", "carburettor")) and not m.added("fresh-fuel"):
        return np.zeros(m.count)
    return m.quantity(base) * gain + constants.value(overflow) * m.quantity("overflow")


@rule("run_mixture_phi")
def run_mixture_phi(m: Machine) -> FloatArray:
    """Mixture strength on the main circuit at working load."""
    return _run(m, "main_base_phi", "overflow_main_phi", m.quantity("choke_gain"))


@rule("idle_mixture_phi")
def idle_mixture_phi(m: Machine) -> FloatArray:
    """Mixture strength on the idle circuit."""
    return _run(m, "idle_base_phi", "overflow_idle_phi", m.quantity("choke_gain"))


@rule("start_supply_phi")
def start_supply_phi(m: Machine) -> FloatArray:
    """Fuel supplied to the first charges: circuits, choke or primer, raw fuel, fuel lying there, drops we put in."""
    closed = m.quantity("choke_closed_share")
    base = 0.75 * m.quantity("main_base_phi") + 0.25 * m.quantity("idle_base_phi")
    if m.trait("choke_kind") == "primer":
        shots = m.quantity("primer_fills") * constants.value("bulb_phi") * closed
        drawn = base * constants.value("crank_feed") + constants.value("bulb_reaches") * shots * np.clip(
            m.quantity("main_free"), 0.0, 1.0
        )
    else:
        drawn = base * constants.value("crank_feed") ** (1.0 - closed) * m.quantity("choke_gain")
        if m.trait("primer") == "yes" and m.trait("carburettor") == "float":
            # A bulb beside a choke squirts into the throat; people press it the more the colder it is.
            frost = step_up(fuel_c(m), constants.value("bulb_pressed_c"), -constants.value("bulb_pressed_width_c"))
            squirt = constants.value("bulb_reaches") * constants.value("bulb_phi") * m.quantity("primer_fills")
            drawn = drawn + squirt * closed * frost * np.clip(m.quantity("main_free"), 0.0, 1.0)
    if m.trait("fuel_feed") == "pulse":
        bulb = m.quantity("primer_fills") if m.trait("primer") == "yes" else 1.0
        drawn = drawn * (1.0 - constants.value("unprimed_loss") * (1.0 - bulb))
    flood = constants.value("flood_phi_per_ml") * m.parameter("flooded_ml") * 160.0 / m.size("displacement_cm3")
    raw = constants.value("overflow_start_gain") * constants.value("overflow_idle_phi") * m.quantity("overflow")
    supply = (drawn + raw) * m.quantity("jet_covered") + flood
    return supply + (constants.value("prime_phi") if m.added("primed") else 0.0)


@rule("start_mixture_phi")
def start_mixture_phi(m: Machine) -> FloatArray:
    """Strength of the vapour mixture in the cylinder at the start, first pulls."""
    supply = m.quantity("start_supply_phi")
    rvp = m.quantity("bowl_rvp_kpa")
    if m.added("primed"):
        fresh = constants.value("prime_phi") / np.clip(supply, 1e-6, None)
        rvp = rvp + np.clip(fresh, 0.0, 1.0) * np.maximum(62.0 - rvp, 0.0)
    share = fuel.evaporated_share(supply, fuel_c(m), rvp, air_kpa(m))
    hot = m.thermal == "hot"
    return supply * share * constants.value("evaporation_reached_hot" if hot else "evaporation_reached_cold")


@rule("start_liquid_phi")
def start_liquid_phi(m: Machine) -> FloatArray:
    """Liquid fuel that comes with it and does not evaporate, in the same measure."""
    return m.quantity("start_supply_phi") - m.quantity("start_mixture_phi")


@rule("plug_wetness")
def plug_wetness(m: Machine) -> FloatArray:
    """Fuel on the plug after four choked pulls that did not start it, 0 dry to 1 dripping."""
    pulled = replace(m.arrangement, choke="closed", drive="rope", off=m.arrangement.off - {"plug"})
    return mixture.plug_wetness(replace(m, arrangement=pulled, _known={}).quantity("start_liquid_phi"))


@rule("plug_colour")
def plug_colour(m: Machine) -> FloatArray:
    """Plug nose after it last ran: 0 white and blistered, 0.5 tan, 1 black and sooty."""
    return mixture.plug_colour(with_choke(m, "open").quantity("run_mixture_phi"))


@rule("prime_mixture_suits")
def prime_mixture_suits(m: Machine) -> FloatArray:
    """How well the mixture suits firing on a few drops of fresh fuel, 0 to 1."""
    primed = replace(m.arrangement, added=m.arrangement.added | {"primed"})
    phi = replace(m, arrangement=primed, _known={}).quantity("start_mixture_phi")
    return starting.mixture_chance(phi, constants.value("start_lean_phi"), constants.value("start_rich_phi"))


def steady_now(m: Machine) -> FloatArray:
    """Steadiness of idle and working mixture in this arrangement, the worse of the two."""
    return np.minimum(
        mixture.steadiness(m.quantity("idle_mixture_phi")), mixture.steadiness(m.quantity("run_mixture_phi"))
    )


@rule("choke_response")
def choke_response(m: Machine) -> FloatArray:
    """Change of steadiness and pull on part choke: 1 much better, 0 none, -1 much worse."""
    return steady_now(with_choke(m, "part")) - steady_now(with_choke(m, "open"))


@rule("mixture_burns")
def mixture_burns(m: Machine) -> FloatArray:
    """Share of cycles that the running mixture lets burn properly."""
    foreign = mixture.foreign_share(in_the_fuel(m, "water_in_fuel"), in_the_fuel(m, "diesel_share"))
    return mixture.burns_share(m.quantity("run_mixture_phi")) * foreign


@rule("mixture_torque_share")
def mixture_torque_share(m: Machine) -> FloatArray:
    """Torque that the mixture strength leaves, over the best mixture."""
    foreign = mixture.foreign_share(in_the_fuel(m, "water_in_fuel"), in_the_fuel(m, "diesel_share"))
    return mixture.torque_share(m.quantity("run_mixture_phi")) * foreign


@rule("black_smoke")
def black_smoke(m: Machine) -> FloatArray:
    """Chance that black smoke is plainly seen."""
    return mixture.black_smoke_chance(m.quantity("run_mixture_phi"))


@rule("spit_back")
def spit_back(m: Machine) -> FloatArray:
    """Lean burning, a valve that does not close, a reed that leaks."""
    opening = np.minimum(m.quantity("run_mixture_phi"), m.quantity("idle_mixture_phi")) + 0.04
    quiet = 1.0 - mixture.lean_pop_chance(opening)
    quiet = quiet * (1.0 - m.quantity("valve_spit_back")) * (1.0 - m.quantity("reed_spit_back"))
    return 1.0 - quiet


@rule("bogs")
def bogs(m: Machine) -> FloatArray:
    """Weak or drowned between idle and full throttle, or not enough fuel behind it."""
    between = np.sqrt(
        np.clip(m.quantity("idle_mixture_phi") * m.quantity("run_mixture_phi"), 0.0, None)
    ) * constants.value("opening_leans")
    lean = 1.0 - step_up(between, constants.value("bog_lean_phi"), constants.value("pop_width"))
    drowned = step_up(m.quantity("run_mixture_phi"), constants.value("bog_rich_phi"), 0.1)
    starved = 1.0 - step_up(m.quantity("supply_at_once"), constants.value("bog_supply_share"), 0.08)
    return 1.0 - (1.0 - lean) * (1.0 - drowned) * (1.0 - starved)


@rule("power_share")
def power_share(m: Machine) -> FloatArray:
    """What the engine could give, as far as fuel keeps coming."""
    supply = np.clip(m.quantity("fuel_supply_share") * 1.02, 0.0, 1.0)
    return m.quantity("engine_power_share") * m.quantity("air_share") * supply


@rule("dies_on_load")
def dies_on_load(m: Machine) -> FloatArray:
    """Chance that it stalls or sags badly when the load comes on."""
    spare = m.quantity("power_share") - m.size("rated_load_share") * m.quantity("load_torque_share")
    return 1.0 - step_up(spare, 0.0, constants.value("stall_margin"))


@rule("dies_on_choke_open")
def dies_on_choke_open(m: Machine) -> FloatArray:
    """Chance that it dies when the choke is opened."""
    opened = mixture.burns_share(with_choke(m, "open").quantity("run_mixture_phi"))
    helped = mixture.burns_share(with_choke(m, "part").quantity("run_mixture_phi"))
    return np.clip(helped, 0.0, 1.0) * (1.0 - opened)


@rule("idle_keeps")
def idle_keeps(m: Machine) -> FloatArray:
    """Chance that it keeps idling for a minute."""
    burns = mixture.burns_share(m.quantity("idle_mixture_phi"))
    foreign = mixture.foreign_share(in_the_fuel(m, "water_in_fuel"), in_the_fuel(m, "diesel_share"))
    fast_enough = step_up(m.quantity("idle_rpm") / m.size("usual_idle_rpm"), 0.6, 0.05)
    return burns * foreign * fast_enough


@rule("fuel_smell_outside")
def fuel_smell_outside(m: Machine) -> FloatArray:
    """How strongly it smells of fuel standing still, 0 to 1."""
    dry = np.exp(-m.quantity("fuel_drip_ml_min") / 2.5 - m.parameter("flooded_ml") / 4.0)
    return 1.0 - dry
