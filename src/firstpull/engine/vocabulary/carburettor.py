"""Float and diaphragm carburettors as parts: jets, bleeds, needle, float, diaphragm, choke, throttle, screws.

Which fault moves what: F031 needle_leak · F032 float_level_mm, float_sunk, needle_stuck_shut · F033
bowl_gasket_leak · F034 main_jet_open, air_bleed_open, gum_in_jets · F035 idle_jet_open · F036
metering_stiffness, metering_lever_mm, metering_gasket_wrong · F037 needle_leak, needle_stuck_shut,
pop_off_set_kpa · F038 idle_screw_turns, main_screw_turns, limiter_cut · F039 choke_closes, choke_opens ·
F040 throttle_shaft_wear, throttle_plate_loose · F041 icing_tendency, heat_shield_missing (fuel) · wrong or
copied carburettor: jet_size_share, carburettor_wrong.

Which check reads what: K03 fuel_drip_ml_min (fuel) · K27 choke_closes, choke_opens (seen) · K28
needle_drip_ml_min, needle_hold_share · K29 dirt_in_bowl, water_in_fuel, gum_in_jets, float_level_mm,
float_sunk (seen) · K30 main_jet_open, idle_jet_open, air_bleed_open, gum_in_jets, throttle_shaft_wear,
throttle_plate_loose (seen) · K31 pop_off_kpa, needle_hold_share · K34 screw_response.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "carburettor"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)
_ALL = Spread("fixed", 1.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "main_jet_open",
        "1",
        0.0,
        2.0,
        Spread("normal", 1.0, 0.03, low=0.9, high=1.1),
        _S,
        "flow area of the main jet and its passages over the right one",
        _GUESS,
    ),
    Parameter(
        "idle_jet_open",
        "1",
        0.0,
        2.0,
        Spread("normal", 1.0, 0.04, low=0.88, high=1.12),
        _S,
        "flow area of the idle circuit and its transfer holes over the right one",
        _GUESS,
    ),
    Parameter(
        "air_bleed_open",
        "1",
        0.0,
        1.2,
        Spread("normal", 1.0, 0.03, low=0.9, high=1.1),
        _S,
        "flow area of the air bleed and the emulsion tube holes over the right one",
        _GUESS,
    ),
    Parameter(
        "jet_size_share",
        "1",
        0.3,
        2.0,
        Spread("normal", 1.0, 0.01, low=0.97, high=1.03),
        _S,
        "size of the jets fitted over the jets that belong in it",
        _GUESS,
    ),
    _extent("carburettor_wrong", "wrong or poorly copied carburettor, 0 right to 1 plainly another"),
    _extent("gum_in_jets", "varnish left by old fuel in jets and passages, 0 clean to 1 closed"),
    _extent("dirt_in_bowl", "sediment, rust or crud in the bowl or the inlet screen", Spread("uniform", 0.0, 0.08)),
    _extent("needle_leak", "inlet needle held open or worn, 0 tight to 1 wide open"),
    _extent("needle_stuck_shut", "inlet needle or float stuck closed, 0 free to 1 shut"),
    Parameter(
        "float_level_mm",
        "mm",
        -12.0,
        12.0,
        Spread("normal", 0.0, 0.5, low=-1.5, high=1.5),
        _S,
        "fuel level in the bowl against specification, above is positive",
        _GUESS,
    ),
    _extent("float_sunk", "float holed or soaked, 0 sound to 1 sunk"),
    _extent("bowl_gasket_leak", "bowl gasket or drain leaking, 0 dry to 1 running"),
    Parameter(
        "pop_off_set_kpa",
        "kPa",
        0.0,
        250.0,
        Spread("normal", 100.0, 12.0, low=70.0, high=140.0),
        _S,
        "pressure at which the inlet needle of a diaphragm carburettor opens",
        "0.7 to 1.4 bar, common practice, from memory",
    ),
    Parameter(
        "metering_stiffness",
        "1",
        0.5,
        6.0,
        Spread("normal", 1.0, 0.08, low=0.8, high=1.3),
        _S,
        "stiffness of the metering diaphragm over a new one",
        _GUESS,
    ),
    Parameter(
        "metering_lever_mm",
        "mm",
        -2.0,
        2.0,
        Spread("normal", 0.0, 0.08, low=-0.2, high=0.2),
        _S,
        "metering lever height against its gauge, high is positive and rich",
        _GUESS,
    ),
    _extent("metering_gasket_wrong", "metering gasket and diaphragm in the wrong order, 0 right or 1 wrong"),
    Parameter(
        "idle_screw_turns",
        "1",
        -3.0,
        4.0,
        Spread("normal", 0.0, 0.08, low=-0.25, high=0.25),
        _S,
        "idle mixture screw against the right setting, open is positive",
        _GUESS,
    ),
    Parameter(
        "main_screw_turns",
        "1",
        -3.0,
        4.0,
        Spread("normal", 0.0, 0.06, low=-0.2, high=0.2),
        _S,
        "main mixture screw against the right setting, open is positive; of no use where there is no screw",
        _GUESS,
    ),
    _extent("limiter_cut", "limiter caps cut off or screws tampered with, 0 untouched or 1 tampered"),
    _extent("choke_closes", "how far the choke closes when set for a cold start", Spread("uniform", 0.94, 1.0)),
    _extent("choke_opens", "how far the choke opens when set to run", Spread("uniform", 0.97, 1.0)),
    _extent(
        "throttle_shaft_wear",
        "play of the throttle shaft, 0 new to 1 worn through",
        Spread("uniform", 0.0, 0.15),
    ),
    _extent("throttle_plate_loose", "throttle plate screws loose or plate askew, 0 tight to 1 loose"),
    _extent("icing_tendency", "how readily the carburettor ices in cold damp air", Spread("uniform", 0.0, 0.1)),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("needle_drip_ml_min", "mL/min", "fuel past the closed needle"),
    Observable("needle_hold_share", "1", "share of the test pressure left on the inlet needle after half a minute"),
    Observable("pop_off_kpa", "kPa", "pressure at which the inlet needle opens under a hand pump"),
    Observable(
        "screw_response",
        "1",
        "how clearly speed answers the mixture screws, 0 not at all to 1 crisply",
        running=True,
    ),
    Observable(
        "bowl_fuel_ml",
        "mL",
        "fuel found in the bowl or metering chamber when opened after trying to start it",
    ),
    Observable("jet_light_share", "1", "how much of the light comes through the worst jet or passage, 1 clean"),
)

SIZES: tuple[Size, ...] = (
    Size("carburettor", "1", "kind of carburettor", "float", ("float", "diaphragm")),
    Size("bowl_vent", "1", "where the bowl is vented", "outside", ("outside", "clean-side")),
    Size("mixture_screws", "1", "mixture screws that can be turned", "no", ("no", "yes")),
    Size("choke_kind", "1", "how a cold start is enriched", "choke", ("choke", "auto-choke", "primer")),
)

TOKENS: tuple[Token, ...] = ()
