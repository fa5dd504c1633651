"""Water pump and pressure washer at the end of the shaft.

Which fault moves what: F108 pump_air_leak_mm2, impeller_wear, pump_dry, suction_hose_open, pump_valve_leak
· F109 trapped_pressure_kpa, unloader_stuck · F110 load_seized (driven_load).

Which check reads what: K04 drag_torque_nm with load on, trigger-open by trapped pressure · K77
pump_prime_s, pump_suction_kpa · K68 pump_pressure_kpa, pump_flow_share · complaints: no_water.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "pump"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "pump_air_leak_mm2",
        "mm2",
        0.0,
        60.0,
        Spread("log-normal", 0.15, 0.6, low=0.01, high=0.8),
        _S,
        "air drawn in at hose, clamp, seal or casing joint",
        _GUESS,
    ),
    _extent(
        "impeller_wear",
        "impeller, wear plate, pistons or valves worn, 0 new to 1 useless",
        Spread("uniform", 0.0, 0.25),
    ),
    _extent("pump_dry", "casing not filled with water before the start, 0 filled or 1 dry"),
    _extent("suction_hose_open", "free share of suction hose and strainer", Spread("uniform", 0.85, 1.0)),
    _extent("pump_valve_leak", "foot or check valve leaking, 0 tight to 1 open", Spread("uniform", 0.0, 0.1)),
    Parameter(
        "trapped_pressure_kpa",
        "kPa",
        0.0,
        25000.0,
        _NONE,
        _S,
        "pressure left in a washer pump with the trigger shut",
        _GUESS,
    ),
    _extent("unloader_stuck", "unloader valve stuck, 0 works to 1 stuck shut"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("pump_prime_s", "s", "time until water comes; 600 = did not prime in ten minutes", running=True),
    Observable("pump_suction_kpa", "kPa", "suction that the pump draws against a closed inlet at speed", running=True),
    Observable(
        "pump_pressure_kpa",
        "kPa",
        "working pressure over what is normal for the class, as pressure",
        running=True,
    ),
    Observable("pump_flow_share", "1", "water delivered over that of a sound pump", running=True),
    Observable("no_water", "1", "chance that people would say it gives no water", running=True),
)

SIZES: tuple[Size, ...] = (
    Size("pump_working_kpa", "kPa", "working pressure of a sound pump", 300.0),
    Size("pump_prime_clean_s", "s", "time in which a sound pump primes at its usual lift", 60.0),
    Size(
        "pump_displacement_cm3",
        "cm3",
        "volume moved a turn by a piston pump (washer); 0 for an impeller",
        0.0,
    ),
)

TOKENS: tuple[Token, ...] = ()
