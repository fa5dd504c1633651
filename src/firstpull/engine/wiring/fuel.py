"""Wires tank, cap, filter, tap, hose, pump and bowl, and what is in the fuel."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import atmosphere, constants, fuel
from firstpull.engine.carburettor import ice_dies_after_s
from firstpull.engine.machine import Machine, rule
from firstpull.engine.mixture import foreign_share
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.wiring.variants import hot, without

FloatArray = NDArray[np.float64]
_LOAD_FUEL = {"none": "idle_fuel_share", "half": "half_fuel_share"}
_IN_THE_CAN = (
    "fuel_age_d", "fuel_lost_share", "fuel_rvp_kpa", "ethanol_share", "diesel_share", "water_in_fuel",
)  # fmt: skip


def in_the_fuel(m: Machine, name: str) -> FloatArray:
    """A property of the fuel in use: that of the tank, or of the shop's fresh can."""
    if not m.added("fresh-fuel"):
        return m.parameter(name)
    fresh = 1.0 if name == "fuel_age_d" else float(PARAMETERS[name].healthy.quantile(np.full(1, 0.5))[0])
    return np.full(m.count, fresh)


def air_kpa(m: Machine) -> float:
    """Air pressure of the day."""
    return atmosphere.pressure_pa(m.conditions.altitude_m) * 1e-3


def fuel_c(m: Machine) -> FloatArray:
    """Temperature of line, bowl and intake."""
    if m.thermal == "cold":
        return np.full(m.count, m.conditions.air_c)
    rise = constants.value("hot_fuel_rise_k") + constants.value("unshielded_rise_k") * m.parameter(
        "heat_shield_missing"
    )
    return m.conditions.air_c + rise


def _head_mm(m: Machine) -> FloatArray:
    return m.size("tank_head_mm") * (0.7 + 0.6 * m.parameter("fuel_level"))


def _in_tank(m: Machine) -> FloatArray:
    """Whether the pick-up finds fuel; a pick-up that is off draws air as the tank empties."""
    level = m.parameter("fuel_level")
    wet = np.tanh(level / 0.02)
    return wet * (1.0 - m.parameter("pickup_off") * np.clip(1.3 - level, 0.0, 1.0))


def _left(extent: FloatArray, name: str) -> FloatArray:
    """From 1 where nothing is wrong to the named constant where all of it is."""
    return 1.0 - (1.0 - constants.value(name)) * extent


@rule("tank_flow_ml_min")
def tank_flow_ml_min(m: Machine) -> FloatArray:
    """Flow that tank, hoses and pump can give at the carburettor, cap loose, before the inlet needle."""
    if m.added("fresh-fuel"):
        return np.full(m.count, m.size("gravity_flow_ml_min"))
    if m.off("fuel"):
        return np.zeros(m.count)
    ways = {
        "needle": np.ones(m.count),
        "hose": m.parameter("fuel_hose_open"),
        "filter": m.parameter("fuel_filter_open"),
        "tap": m.parameter("tap_flow_share"),
        "pickup": m.parameter("pickup_open"),
    }
    there = _in_tank(m) * (1.0 - m.parameter("tap_shut")) * _left(m.parameter("lines_crossed"), "crossed_left")
    if m.trait("fuel_feed") == "gravity":
        head = _head_mm(m) / m.size("tank_head_mm")
        return m.size("gravity_flow_ml_min") * fuel.gravity_flow_share(ways, head) * there
    pulse = (
        m.quantity("pulse_share")
        * m.parameter("pulse_line_open")
        * _left(m.parameter("pulse_gasket_turned"), "covered_left")
    )
    pump = pulse * _left(m.parameter("pulse_diaphragm_tear"), "torn_left") * (1.0 - m.parameter("fuel_hose_crack")) ** 2
    full = m.size("fuel_use_ml_h") / 60.0 * constants.value("pump_reserve")
    return full * pump * fuel.gravity_flow_share(ways, np.ones(m.count)) * there


def _vent_mm2(m: Machine) -> FloatArray:
    loosened = 50.0 if m.off("fuel-cap") or m.added("fresh-fuel") else 0.0
    return m.parameter("cap_vent_mm2") + loosened


def _release_ml(m: Machine) -> FloatArray:
    room = m.size("tank_litre") * (1.02 - m.parameter("fuel_level"))
    return fuel.shut_cap_release_ml(room, _head_mm(m), air_kpa(m))


def _lasting(m: Machine, flow: FloatArray) -> FloatArray:
    return fuel.lasting_flow_ml_min(flow, _vent_mm2(m), _head_mm(m))


@rule("fuel_flow_ml_min")
def fuel_flow_ml_min(m: Machine) -> FloatArray:
    """A minute's catch: what lasts, and what a shut tank lets go before its suction holds the rest."""
    if m.off("fuel-tap"):
        return np.zeros(m.count)
    flow = m.quantity("tank_flow_ml_min")
    lasting = _lasting(m, flow)
    return lasting + np.minimum(flow - lasting, _release_ml(m))


@rule("inlet_flow_ml_min")
def inlet_flow_ml_min(m: Machine) -> FloatArray:
    """Lasting flow past the inlet needle, arrangement aside."""
    flow = _lasting(m, m.quantity("tank_flow_ml_min"))
    return flow * (1.0 - m.parameter("needle_stuck_shut"))


def demand_ml_min(m: Machine, load: str) -> float:
    """Fuel drawn at this load."""
    share = constants.value(_LOAD_FUEL[load]) if load in _LOAD_FUEL else 1.0
    return m.size("fuel_use_ml_h") / 60.0 * share


@rule("vapour_lock")
def vapour_lock(m: Machine) -> FloatArray:
    """Chance that bubbles hold back the fuel as warm as it is now."""
    return fuel.vapour_lock_chance(m.quantity("fuel_rvp_now_kpa"), fuel_c(m), air_kpa(m))


@rule("fuel_supply_share")
def fuel_supply_share(m: Machine) -> FloatArray:
    """Lasting supply at the carburettor over what full load draws, 0 to 1."""
    if m.off("fuel-tap") or m.off("fuel-hose"):
        return np.zeros(m.count)
    cool = 1.0 - m.quantity("vapour_lock")
    return np.clip(m.quantity("inlet_flow_ml_min") * cool / demand_ml_min(m, "full"), 0.0, 1.0)


@rule("supply_at_once")
def supply_at_once(m: Machine) -> FloatArray:
    """Supply in the first minute over full demand: a float bowl covers what the hose does not bring."""
    share = m.quantity("fuel_supply_share")
    if m.trait("carburettor") == "diaphragm":
        return share
    return 1.0 - (1.0 - share) * (1.0 - m.quantity("jet_covered"))


@rule("bowl_ready")
def bowl_ready(m: Machine) -> FloatArray:
    """How full the bowl is when it is tried: what trickled in since the last try, up to full."""
    if any(m.off(token) for token in ("fuel", "fuel-hose", "bowl", "carburettor")):
        return np.zeros(m.count)
    minutes = "bowl_stands_min" if m.trait("fuel_feed") == "gravity" else "pulls_pump_min"
    return fuel.bowl_fill(m.quantity("inlet_flow_ml_min"), m.size("bowl_ml"), constants.value(minutes))


@rule("jet_covered")
def jet_covered(m: Machine) -> FloatArray:
    """Whether the fuel stands over the jet: a bowl with a little in it feeds as richly as a full one, only not long."""
    edge = 1.0 - constants.value("bowl_drawn_share")
    return np.clip((m.quantity("bowl_ready") - edge) / constants.value("jet_edge") + 0.5, 0.0, 1.0)


@rule("fuel_arrives")
def fuel_arrives(m: Machine) -> FloatArray:
    """Share of the fuel wanted that reaches the carburettor outlet at the start, 0 to 1."""
    jets = 0.8 * m.quantity("main_free") + 0.2 * m.quantity("idle_free")
    reached = np.tanh(2.5 * jets * m.quantity("metering_share")) * m.quantity("jet_covered")
    if m.trait("bowl_solenoid") == "yes":
        reached = reached * m.parameter("bowl_solenoid_opens")
    if m.drive != "running":
        reached = reached * (1.0 - constants.value("lock_start_loss") * m.quantity("vapour_lock"))
    if m.added("primed") and m.drive != "running":
        reached = np.ones(m.count)
    return reached * foreign_share(in_the_fuel(m, "water_in_fuel"), in_the_fuel(m, "diesel_share"))


def _tank_lost(m: Machine) -> FloatArray:
    stood = fuel.tank_lost_share(in_the_fuel(m, "fuel_age_d"), m.size("tank_litre"))
    return np.maximum(in_the_fuel(m, "fuel_lost_share"), stood)


def _rvp(m: Machine, lost: FloatArray) -> FloatArray:
    heavy = 1.0 - 0.9 * in_the_fuel(m, "diesel_share")
    return in_the_fuel(m, "fuel_rvp_kpa") * fuel.volatility_left(np.clip(lost, 0.0, 0.95)) * heavy


@rule("fuel_rvp_now_kpa")
def fuel_rvp_now_kpa(m: Machine) -> FloatArray:
    """Vapour pressure of the fuel in use: weathered, and thinned with what does not evaporate."""
    return _rvp(m, _tank_lost(m))


@rule("bowl_rvp_kpa")
def bowl_rvp_kpa(m: Machine) -> FloatArray:
    """Vapour pressure of what the first charges get: a float bowl that has stood holds the heavy end."""
    if m.trait("carburettor") == "diaphragm" or m.thermal == "hot":
        return m.quantity("fuel_rvp_now_kpa")
    return _rvp(m, 1.0 - (1.0 - _tank_lost(m)) * (1.0 - fuel.bowl_lost_share(in_the_fuel(m, "fuel_age_d"))))


@rule("fuel_volatility")
def fuel_volatility(m: Machine) -> FloatArray:
    """Vapour pressure of the fuel over that of the fresh fuel."""
    return m.quantity("fuel_rvp_now_kpa") / in_the_fuel(m, "fuel_rvp_kpa")


@rule("fuel_smell")
def fuel_smell(m: Machine) -> FloatArray:
    """How sour and flat a sample of the tank fuel smells, 0 fresh to 1 varnish."""
    age = step_up(np.log(np.clip(in_the_fuel(m, "fuel_age_d"), 0.1, None) / constants.value("smell_age_d")), 0.0, 0.3)
    flat = 1.0 - (1.0 - m.quantity("fuel_volatility")) ** 2
    return 1.0 - (1.0 - age) * flat * (1.0 - 0.8 * in_the_fuel(m, "diesel_share"))


@rule("jar_layer_share")
def jar_layer_share(m: Machine) -> FloatArray:
    """Share of a jar sample that stands as water or a separate layer."""
    return in_the_fuel(m, "water_in_fuel")


@rule("fuel_drip_ml_min")
def fuel_drip_ml_min(m: Machine) -> FloatArray:
    """Fuel dripping outside: hose, bowl gasket, needle past the vent."""
    wet = m.quantity("bowl_ready")
    hose = (
        constants.value("hose_drip_ml_min")
        * m.parameter("fuel_hose_crack")
        * np.tanh(m.quantity("tank_flow_ml_min") / 20.0)
    )
    gasket = constants.value("gasket_drip_ml_min") * m.parameter("bowl_gasket_leak") * wet
    return hose + gasket + constants.value("overflow_outside") * m.quantity("needle_drip_ml_min")


@rule("primer_fills")
def primer_fills(m: Machine) -> FloatArray:
    """How well the primer bulb fills, resists and returns, 0 to 1."""
    if m.trait("primer") == "no":
        return np.zeros(m.count)
    sound = (1.0 - m.parameter("primer_bulb_crack")) * (1.0 - m.parameter("primer_valve_stuck"))
    fed = np.ones(m.count)
    if m.trait("fuel_feed") == "pulse":
        fed = _in_tank(m) * (1.0 - m.parameter("lines_crossed")) * (1.0 - m.parameter("fuel_hose_crack")) ** 2
    return sound * fed


def _vent_at_fault(m: Machine) -> FloatArray:
    """1 where it starves with the cap as it stands and would not with the cap loose."""
    demand = demand_ml_min(m, m.load)
    starves = m.quantity("inlet_flow_ml_min") < demand
    loose = without(m, "fuel-cap")
    return np.asarray(starves & (loose.quantity("inlet_flow_ml_min") >= demand), dtype=np.float64)


@rule("cap_whoosh_kpa")
def cap_whoosh_kpa(m: Machine) -> FloatArray:
    """Suction in the tank when the engine dies and the cap is loosened."""
    head = constants.value("fuel_density_kg_m3") * fuel.GRAVITY * _head_mm(m) * 1e-6
    flow = np.clip(m.quantity("tank_flow_ml_min"), 1e-6, None)
    return head * np.clip(1.0 - m.quantity("inlet_flow_ml_min") / flow, 0.0, 1.0) * _vent_at_fault(m)


@rule("cap_recovers")
def cap_recovers(m: Machine) -> FloatArray:
    """Chance that it starts and runs again at once with the cap loose after it died."""
    return min(constants.value("cap_recovery"), 1.0) * _vent_at_fault(m)


def _starved_s(m: Machine) -> FloatArray:
    lasting = np.zeros(m.count) if m.off("fuel-tap") or m.off("fuel-hose") else m.quantity("inlet_flow_ml_min")
    above = np.clip(m.quantity("bowl_ready") - (1.0 - constants.value("bowl_drawn_share")), 0.0, None)
    held = m.size("bowl_ml") * above
    shut = m.off("fuel-tap") or m.off("fuel-hose")
    bowl = held if shut else held + _vent_at_fault(m) * _release_ml(m)
    return fuel.starves_after_s(bowl, np.full(m.count, demand_ml_min(m, m.load)), lasting)


def _choke_set(m: Machine) -> Machine:
    """The choke as people have it once it fires: opened, unless it is being run and left where it is."""
    if m.drive == "running" or m.choke == "open":
        return m
    return replace(m, arrangement=replace(m.arrangement, choke="open", drive="running"), _known={})


@rule("fuel_dies_after_s")
def fuel_dies_after_s(m: Machine) -> FloatArray:
    """The first of: empty bowl, water at the jet, a mixture that does not burn on, boiling fuel, ice."""
    unending = constants.value("unending_s")
    clear_s = 60.0 * m.size("bowl_ml") / demand_ml_min(m, m.load)
    water = in_the_fuel(m, "water_in_fuel")
    watered = np.where(water > constants.value("water_at_jet"), clear_s * (1.0 - water) ** 2, unending)
    burns = _choke_set(m).quantity("mixture_burns")
    unfed = np.where(burns > 0.5, unending, constants.value("choke_off_s") + 12.0 * burns)
    warmed = hot(m)
    lock = fuel.vapour_lock_chance(m.quantity("fuel_rvp_now_kpa"), fuel_c(warmed), air_kpa(m))
    boiled = np.where(
        lock > 0.5,
        constants.value("boils_hot_s") if m.thermal == "hot" else constants.value("warms_up_s"),
        unending,
    )
    iced = ice_dies_after_s(m.parameter("icing_tendency"), m.conditions.air_c)
    first = _starved_s(m)
    for other in (watered, unfed, boiled, iced):
        first = np.minimum(first, other)
    return np.maximum(first, 1.0)


@rule("dies_after_s")
def dies_after_s(m: Machine) -> FloatArray:
    """Fuel reasons, or whatever else stops it: at once, or when it has become hot."""
    warmed = hot(m)
    warm_s = constants.value("fails_hot_s") if m.thermal == "hot" else constants.value("warms_up_s")
    others = np.where(warmed.quantity("sound_to_run") > 0.5, constants.value("unending_s"), warm_s)
    at_once = np.where(m.quantity("sound_to_run") > 0.5, constants.value("unending_s"), 2.0)
    return np.asarray(np.minimum(np.minimum(m.quantity("fuel_dies_after_s"), others), at_once))


@rule("runs_minutes_chance")
def runs_minutes_chance(m: Machine) -> FloatArray:
    """Chance that it keeps running for half an hour at light load."""
    return step_up(np.log(np.clip(m.quantity("dies_after_s"), 1.0, None) / 1800.0), 0.0, 0.25)
