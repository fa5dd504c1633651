"""The electrical end of a generator: brush with regulator, capacitor, inverter.

Which fault moves what: F112 residual_magnetism_share · F113 brush_length_mm, brush_contact · F114
rotor_open, rotor_turns_share, rotor_leak_mohm · F115 stator_open, stator_turns_share · F116 capacitor_share
· F117 regulator_gain, regulator_over · F118 breaker_open, socket_open · F119 comes from governing · F120
regulator_over, top_speed_set_rpm (governing) · inverter board: inverter_dead, inverter_over · one socket
dead: socket_open · damp windings: insulation_share · earth-fault device: earth_fault_dead.

Which check reads what: K76 output_hz · K78 output_v, residual_v · K79 brush_length_mm (seen),
brush_path_ohm, rotor_ohm, insulation_mohm · K80 stator_ohm, stator_balance · K81 capacitor_uf · K82
outlet_path · K83 insulation_mohm · K84 earth_fault_trips. Live figures only at the outlet, cover on.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "generator"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)
_SAME = Spread("normal", 1.0, 0.015, low=0.96, high=1.04)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "residual_magnetism_share",
        "1",
        0.0,
        3.0,
        Spread("log-normal", 1.0, 0.3, low=0.45, high=2.2),
        _S,
        "residual magnetism over that of a usual sound set",
        _GUESS,
    ),
    Parameter(
        "brush_length_mm",
        "mm",
        0.0,
        25.0,
        Spread("uniform", 6.0, 12.0),
        _S,
        "length of the shorter brush",
        _GUESS,
    ),
    _extent("brush_contact", "how well the brushes sit on clean rings", Spread("uniform", 0.9, 1.0)),
    _extent("rotor_open", "rotor winding open, 0 sound or 1 open"),
    Parameter(
        "rotor_turns_share",
        "1",
        0.1,
        1.1,
        _SAME,
        _S,
        "live turns of the rotor: shorted turns are less",
        _GUESS,
    ),
    Parameter(
        "rotor_leak_mohm",
        "Mohm",
        0.0,
        2000.0,
        Spread("log-normal", 60.0, 0.9, low=5.0, high=1500.0),
        _S,
        "rotor winding to shaft",
        _GUESS,
    ),
    _extent("stator_open", "stator winding open, 0 sound or 1 open"),
    Parameter(
        "stator_turns_share",
        "1",
        0.1,
        1.1,
        _SAME,
        _S,
        "live turns of the stator: shorted turns are less",
        _GUESS,
    ),
    Parameter(
        "insulation_share",
        "1",
        0.0,
        10.0,
        Spread("log-normal", 1.0, 0.6, low=0.2, high=6.0),
        _S,
        "insulation of the stator over a usual 100 megohm: damp or burnt is far less",
        _GUESS,
    ),
    Parameter(
        "capacitor_share",
        "1",
        0.0,
        1.5,
        Spread("normal", 1.0, 0.03, low=0.92, high=1.08),
        _S,
        "value of the excitation capacitor over the printed value",
        _GUESS,
    ),
    _extent(
        "regulator_gain",
        "how much of the field it calls for the regulator really gives",
        Spread("uniform", 0.95, 1.0),
    ),
    _extent("regulator_over", "regulator stuck in full field, 0 regulates to 1 full field"),
    _extent("breaker_open", "output breaker open or burnt, 0 closed or 1 open"),
    _extent("socket_open", "the outlet tried, or its wire, is open, 0 sound or 1 open"),
    _extent("inverter_dead", "inverter board gives nothing, 0 sound to 1 dead"),
    _extent("inverter_over", "inverter board does not hold its volts, 0 sound to 1 far over"),
    _extent("earth_fault_dead", "earth-fault device does not trip, 0 trips or 1 dead"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("output_v", "V", "volts at the outlet under the load of the arrangement", running=True),
    Observable("output_hz", "Hz", "frequency at the outlet under the load of the arrangement", running=True),
    Observable("residual_v", "V", "volts at the outlet without excitation", running=True),
    Observable("voltage_sag_percent", "%", "fall of volts from no load to full load", running=True),
    Observable("no_output", "1", "chance that people would say there is no electricity", running=True),
    Observable("weak_current", "1", "chance that people would speak of dim lamps or slow motors", running=True),
    Observable("over_voltage", "1", "chance that volts are high enough to harm what is plugged in", running=True),
    Observable("light_flicker", "1", "how much lamps flicker, 0 steady to 1 strongly", running=True),
    Observable("brush_path_ohm", "ohm", "brush to brush with the brushes on the rings"),
    Observable("rotor_ohm", "ohm", "ring to ring, brushes lifted; a million = open"),
    Observable("stator_ohm", "ohm", "main winding; a million = open"),
    Observable("stator_balance", "1", "lower over higher of a pair of windings that should be equal"),
    Observable("capacitor_uf", "uF", "excitation capacitor off the circuit and discharged"),
    Observable("insulation_mohm", "Mohm", "windings to frame, electronics unplugged"),
    Observable("outlet_path", "1", "continuity from winding to the outlet tried, 1 through to 0 open"),
    Observable("earth_fault_trips", "1", "chance that the earth-fault device trips when tested", running=True),
)

SIZES: tuple[Size, ...] = (
    Size("generator_kind", "1", "kind of electrical end", "none", ("none", "brush", "capacitor", "inverter")),
    Size("nominal_v", "V", "nominal output", 120.0),
    Size("nominal_hz", "Hz", "nominal frequency", 60.0),
    Size("pole_pairs", "1", "pole pairs of the alternator: hertz = turns a second times this", 1.0),
    Size("rotor_winding_ohm", "ohm", "rotor winding of a sound set", 55.0),
    Size("stator_winding_ohm", "ohm", "main winding of a sound set", 0.45),
    Size("capacitor_printed_uf", "uF", "printed value of the excitation capacitor", 28.0),
    Size("usual_residual_v", "V", "residual volts at the outlet of a usual sound set at speed", 4.0),
    Size(
        "winding_drop_share",
        "1",
        "volts lost in the windings from no load to full load at full excitation",
        0.05,
    ),
)

TOKENS: tuple[Token, ...] = ()
