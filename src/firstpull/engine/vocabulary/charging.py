"""Charging the battery from the flywheel.

Which fault moves what: F121 charge_coil_open, charge_diode_open, charge_regulator_dead · over-charging:
charge_regulator_over · a drain that flattens the battery: drain_ma · battery_charge itself is in
starter_electrics.

Which check reads what: K47 charge_v · K80 charge_coil_ohm, charge_diode_ok, charge_coil_vac · complaints:
battery_goes_flat.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "charging"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    _extent("charge_coil_open", "charging coil open, 0 sound or 1 open"),
    Parameter(
        "charge_coil_share",
        "1",
        0.0,
        1.2,
        Spread("normal", 1.0, 0.05, low=0.85, high=1.15),
        _S,
        "live turns and magnet of the charging coil over a sound one",
        _GUESS,
    ),
    _extent("charge_diode_open", "charging diode or rectifier open, 0 sound or 1 open"),
    _extent("charge_regulator_dead", "regulator passes nothing, 0 sound or 1 dead"),
    _extent("charge_regulator_over", "regulator passes everything, 0 regulates to 1 not at all"),
    Parameter(
        "drain_ma",
        "mA",
        0.0,
        5000.0,
        Spread("log-normal", 0.5, 0.6, low=0.05, high=3.0),
        _S,
        "current drawn at rest with the key off",
        _GUESS,
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("charge_v", "V", "battery posts with the engine running fast", running=True),
    Observable(
        "charge_coil_vac",
        "V",
        "alternating volts of the charging coil off circuit, running fast",
        running=True,
    ),
    Observable("charge_coil_ohm", "ohm", "charging coil to its return; a million = open"),
    Observable("charge_diode_ok", "1", "diode passes one way and blocks the other, 1 yes to 0 no"),
    Observable("battery_goes_flat", "1", "chance that people would say the battery is flat every time"),
    Observable("rest_drain_ma", "mA", "current drawn from the battery with the key off"),
)

SIZES: tuple[Size, ...] = (
    Size("charging", "1", "how the battery is charged", "none", ("none", "diode", "regulated")),
    Size("charge_coil_winding_ohm", "ohm", "charging coil of a sound machine", 1.2),
    Size("charge_coil_full_vac", "V", "alternating volts of a sound coil off circuit at 3600 r/min", 30.0),
)

TOKENS: tuple[Token, ...] = ()
