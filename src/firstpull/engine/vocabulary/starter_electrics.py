"""Electric starting: battery, cables, key, solenoid, starter motor.

Which fault moves what: F081 battery_charge, battery_ohm, battery_cell_dead · F082 cable_ohm, earth_ohm ·
F083 solenoid_contact_ohm, solenoid_open, key_open, fuse_open · F084 starter_brush_wear, starter_drag,
pinion_stuck. (F016 interlock belongs to the stop circuit.)

Which check reads what: K47 battery_rest_v, battery_cranking_v · K48 cable_drop_v, earth_drop_v,
solenoid_drop_v, solenoid_click · K49 starter_brush_wear, pinion_stuck, starter_drag (seen) · complaints:
only_clicks, cranks_slowly, cranks_not.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "starter-electrics"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    _extent("battery_charge", "charge of the battery, 0 empty to 1 full", Spread("uniform", 0.75, 1.0)),
    Parameter(
        "battery_ohm",
        "ohm",
        0.004,
        2.0,
        Spread("log-normal", 0.018, 0.25, low=0.01, high=0.035),
        _S,
        "inner resistance of the battery when charged: sulphated is more",
        _GUESS,
    ),
    _extent("battery_cell_dead", "a cell is dead, 0 sound or 1 dead"),
    Parameter(
        "cable_ohm",
        "ohm",
        0.0005,
        5.0,
        Spread("log-normal", 0.002, 0.3, low=0.001, high=0.005),
        _S,
        "positive cable and its joints, battery to solenoid and starter",
        _GUESS,
    ),
    Parameter(
        "earth_ohm",
        "ohm",
        0.0005,
        5.0,
        Spread("log-normal", 0.0015, 0.3, low=0.0006, high=0.004),
        _S,
        "earth cable and its joints, starter body to battery",
        _GUESS,
    ),
    Parameter(
        "solenoid_contact_ohm",
        "ohm",
        0.0002,
        5.0,
        Spread("log-normal", 0.001, 0.3, low=0.0004, high=0.003),
        _S,
        "closed contacts of the solenoid",
        _GUESS,
    ),
    _extent("solenoid_open", "solenoid does not pull in, 0 sound or 1 dead"),
    _extent("key_open", "key switch or its wire open, 0 sound or 1 open"),
    _extent("fuse_open", "fuse blown, 0 sound or 1 blown"),
    _extent(
        "starter_brush_wear",
        "starter brushes worn or stuck, 0 new to 1 no contact",
        Spread("uniform", 0.0, 0.3),
    ),
    _extent(
        "starter_drag",
        "starter bearings dry or armature rubbing, 0 free to 1 stuck",
        Spread("uniform", 0.0, 0.05),
    ),
    _extent("pinion_stuck", "drive pinion sticks and does not engage, 0 free to 1 spins only"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("battery_rest_v", "V", "battery posts at rest"),
    Observable("battery_cranking_v", "V", "battery posts with the key at start"),
    Observable("starter_v", "V", "at the starter with the key at start"),
    Observable("cable_drop_v", "V", "positive side, battery post to starter stud without the solenoid, key at start"),
    Observable("earth_drop_v", "V", "starter body to battery earth post, key at start"),
    Observable("solenoid_drop_v", "V", "across the big posts of the solenoid, key at start"),
    Observable("starter_current_a", "A", "current with the key at start"),
    Observable("solenoid_click", "1", "chance of a plain click with the key at start"),
    Observable("starter_turns_rpm", "rpm", "crank speed that the starter reaches with the plug in"),
    Observable("starter_spins_alone", "1", "chance that people would say the starter whirrs alone"),
    Observable("only_clicks", "1", "chance that people would say it only clicks"),
    Observable("cranks_slowly", "1", "chance that people would say it cranks slowly"),
    Observable("cranks_not", "1", "chance that nothing at all happens with the key"),
)

SIZES: tuple[Size, ...] = (
    Size("electric_start", "1", "electric starter", "no", ("no", "yes")),
    Size("starter_gear", "1", "starter turns for one of the crank", 12.0),
    Size("starter_ohm", "ohm", "starter motor winding and brushes of a sound starter", 0.03),
    Size("starter_kt_nm_a", "1", "torque of the starter motor for each ampere, newton metres", 0.0135),
)

TOKENS: tuple[Token, ...] = ()
