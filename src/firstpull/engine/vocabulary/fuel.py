"""Fuel supply and fuel quality: tank, cap, pick-up, filter, tap, hoses, primer, pulse pump, and what is in the
fuel.

Which fault moves what: F021 fuel_level, tap_shut · F022 fuel_age_d, fuel_lost_share, gum_in_jets
(carburettor) · F023 water_in_fuel · F024 oil_in_fuel_share, diesel_share, ethanol_share · F025 cap_vent_mm2
· F026 pickup_open, fuel_filter_open, pickup_off · F027 fuel_hose_open, fuel_hose_crack · F028
tap_flow_share, bowl_solenoid_opens · F029 primer_bulb_crack, primer_valve_stuck · F030
pulse_diaphragm_tear, pulse_gasket_turned · F051 pulse_line_open · F041 (vapour lock) heat_shield_missing,
fuel_rvp_kpa · lines crossed: lines_crossed · a fuel solenoid that does not shut is bowl_solenoid_shuts.

Which check reads what: K01 fuel_level, tap_shut (seen) · K03 fuel_drip_ml_min · K22 fuel_age_d,
water_in_fuel, oil_in_fuel_share, diesel_share, ethanol_share (seen), or fuel_smell, jar_layer_share · K23
cap_whoosh_kpa, cap_recovers, dies_after_s · K24 fuel_flow_ml_min · K25 fuel_hose_crack, fuel_hose_open,
lines_crossed, pickup_off, pulse_line_open (seen) · K26 primer_fills · K32 pulse_diaphragm_tear,
pulse_gasket_turned (seen) · K35 dies_after_s hot.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "fuel"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)
_ALL = Spread("fixed", 1.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE, source: str = _GUESS) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, source)


PARAMETERS: tuple[Parameter, ...] = (
    _extent("fuel_level", "how full the tank is, 0 empty to 1 full", Spread("uniform", 0.25, 0.95)),
    _extent("tap_shut", "fuel tap left shut by the user, 0 open or 1 shut"),
    _extent("tap_flow_share", "share of its bore that the open tap leaves free", Spread("uniform", 0.9, 1.0)),
    Parameter(
        "fuel_age_d",
        "d",
        0.0,
        2000.0,
        Spread("log-normal", 14.0, 0.8, low=0.0, high=120.0),
        _S,
        "days since the fuel was bought",
        _GUESS,
    ),
    _extent("fuel_lost_share", "share of the fuel mass that has evaporated", Spread("uniform", 0.0, 0.04)),
    Parameter(
        "fuel_rvp_kpa",
        "kPa",
        40.0,
        110.0,
        Spread("normal", 62.0, 6.0, low=45.0, high=90.0),
        _S,
        "vapour pressure of the fuel at 37.8 C when fresh; winter fuel is higher",
        "62 kPa common summer limit, from memory; spread judgement",
    ),
    _extent(
        "ethanol_share",
        "share of ethanol by volume in the fuel",
        Spread("choice", values=(0.0, 0.05, 0.1, 0.1)),
    ),
    _extent("diesel_share", "share of diesel or other heavy oil fuel by volume"),
    _extent("oil_in_fuel_share", "share of two-stroke oil by volume in the fuel; the right one is a size", _NONE),
    _extent("water_in_fuel", "share of water, or of the water-alcohol layer, in what the pick-up draws"),
    Parameter(
        "cap_vent_mm2",
        "mm2",
        0.0,
        5.0,
        Spread("log-normal", 0.4, 0.4, low=0.08, high=3.0),
        _S,
        "open area of the cap or tank vent",
        _GUESS,
    ),
    _extent("pickup_open", "free share of the tank strainer or pick-up", Spread("uniform", 0.85, 1.0)),
    _extent("pickup_off", "pick-up hose detached or split inside the tank, 0 sound to 1 off"),
    _extent("fuel_filter_open", "free share of the fuel filter", Spread("uniform", 0.8, 1.0)),
    _extent("fuel_hose_open", "free share of the fuel hose: kinked, swollen or collapsed is less", _ALL),
    _extent("fuel_hose_crack", "fuel hose cracked or perished, 0 sound to 1 split through"),
    _extent("lines_crossed", "fuel lines on the wrong fittings, 0 right or 1 crossed"),
    _extent("bowl_solenoid_opens", "how far the fuel solenoid under the bowl opens; of no use without one", _ALL),
    _extent("bowl_solenoid_shuts", "how far the fuel solenoid shuts when the engine is stopped", _ALL),
    _extent("primer_bulb_crack", "primer bulb cracked or perished, 0 sound to 1 split"),
    _extent("primer_valve_stuck", "primer check valves stuck, 0 free to 1 stuck"),
    _extent("pulse_diaphragm_tear", "fuel pump diaphragm torn or hard, 0 sound to 1 useless"),
    _extent("pulse_gasket_turned", "pump gasket turned or pulse hole covered, 0 right to 1 covered"),
    _extent("pulse_line_open", "how much of the crankcase pulse reaches the fuel pump by its line or port", _ALL),
    _extent("heat_shield_missing", "heat shield or spacer between engine and carburettor missing or misfitted"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable(
        "fuel_flow_ml_min",
        "mL/min",
        "fuel that runs out of the hose at the carburettor, cap as it stands; "
        "of a pulse pump while it is turned at pulling speed",
    ),
    Observable(
        "fuel_arrives",
        "1",
        "share of the fuel wanted that reaches the carburettor outlet at the start, 0 to 1",
    ),
    Observable("fuel_supply_share", "1", "lasting supply at the carburettor over what full load draws, 0 to 1"),
    Observable("fuel_smell", "1", "how sour and flat a sample of the tank fuel smells, 0 fresh to 1 varnish"),
    Observable("jar_layer_share", "1", "share of a jar sample that stands as water or a separate layer"),
    Observable("fuel_volatility", "1", "vapour pressure of the fuel over that of the fresh fuel"),
    Observable("fuel_drip_ml_min", "mL/min", "fuel dripping outside: hose, bowl gasket, needle past the vent"),
    Observable("cap_whoosh_kpa", "kPa", "suction in the tank when the engine dies and the cap is loosened"),
    Observable("cap_recovers", "1", "chance that it starts and runs again at once with the cap loose after it died"),
    Observable("primer_fills", "1", "how well the primer bulb fills, resists and returns, 0 to 1"),
    Observable(
        "dies_after_s",
        "s",
        "seconds from first firing until it stops by itself; 3600 = did not within an hour",
    ),
    Observable("fuel_dies_after_s", "s", "the same, of fuel reasons alone"),
    Observable("runs_minutes_chance", "1", "chance that it keeps running for half an hour at light load"),
)

SIZES: tuple[Size, ...] = (
    Size("fuel_feed", "1", "how fuel gets to the carburettor", "gravity", ("gravity", "pulse")),
    Size("tank_litre", "L", "full tank", 0.9),
    Size("tank_head_mm", "mm", "height of a half full tank above the carburettor inlet", 180.0),
    Size(
        "gravity_flow_ml_min",
        "mL/min",
        "flow at the carburettor inlet of a sound gravity feed at half tank",
        130.0,
    ),
    Size("fuel_use_ml_h", "mL/h", "fuel drawn at full load", 900.0),
    Size("bowl_ml", "mL", "fuel in the bowl or metering chamber", 35.0),
    Size("right_oil_share", "1", "share of oil wanted in the fuel (two-stroke 0.02; four-stroke 0)", 0.0),
    Size("bowl_solenoid", "1", "fuel shut-off solenoid under the bowl", "no", ("no", "yes")),
    Size("primer", "1", "primer bulb", "yes", ("no", "yes")),
)

TOKENS: tuple[Token, ...] = ()
