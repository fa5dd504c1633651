"""The crankcase: breather and blow-by of four-strokes, sealing, reed and pulse of two-strokes.

Faults and what they move: F048 crank seal: `seal_flywheel_leak_mm2` or `seal_pto_leak_mm2` (0.05-5), or a lip that
holds pressure but not vacuum: `seal_vacuum_leak_mm2`. F049 crankcase or base gasket: `case_gasket_leak_mm2` (0.05-5).
F050 reed: `reed_leak_mm2` (2-40), `reed_chip`. F065 breather: `breather_blocked` (0.6-1) or `breather_open` (1).
F074 four-stroke seal weeping: `seal_oil_weep` (0.3-1). F062 and F053 show here too, through blow-by. F047, F046 and the
carburettor flange belong to the intake (another file); they leak in the same test.

Checks: K41 reads `crankcase_pressure_hold_kpa` and `crankcase_vacuum_hold_kpa` (ports-blocked added; setup
`hold_start_kpa` default 48, `hold_vacuum_kpa` default 40, `hold_s` default 10) and the place by soapy water:
`bubbles_flywheel_seal`, `bubbles_pto_seal`, `bubbles_case_gasket`. K43 sees `reed_chip`, `reed_leak_mm2`. K60 reads
`crankcase_vacuum_kpa` (slight vacuum is healthy, below zero it blows). K03 sees `seal_oil_weep`. K15/K27 see
`oil_in_air_cleaner`. Complaint: oil in air cleaner `oil_in_air_cleaner`, oil under deck `oil_outside`.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "crankcase"
_TIGHT = Spread("log-normal", 0.0003, 0.6, high=0.002)

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "seal_flywheel_leak_mm2", "mm2", 0, 20, _TIGHT, _S, "leak area of the flywheel side crank seal", "judgement"
    ),
    Parameter("seal_pto_leak_mm2", "mm2", 0, 20, _TIGHT, _S, "leak area of the drive side crank seal", "judgement"),
    Parameter(
        "seal_vacuum_leak_mm2",
        "mm2",
        0,
        20,
        _TIGHT,
        _S,
        "leak area of a seal lip that lifts under vacuum only",
        "judgement",
    ),
    Parameter(
        "case_gasket_leak_mm2", "mm2", 0, 20, _TIGHT, _S, "leak area of crankcase or cylinder base gasket", "judgement"
    ),
    Parameter(
        "reed_leak_mm2",
        "mm2",
        0,
        120,
        Spread("log-normal", 0.4, 0.4, high=2.0),
        _S,
        "backward leak area of the closed reed, piston port or rotary valve",
        "judgement",
    ),
    Parameter("reed_chip", "1", 0, 1, Spread("fixed", 0.0), _S, "reed chipped, bent or gummed, as seen", "judgement"),
    Parameter(
        "breather_blocked",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.15),
        _S,
        "share of the breather passage that is shut",
        "judgement",
    ),
    Parameter(
        "breather_open",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.05),
        _S,
        "breather valve that does not close: disc missing or stuck open",
        "judgement",
    ),
    Parameter(
        "seal_oil_weep",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.08),
        _S,
        "oil wetness at a crank seal of a four-stroke",
        "judgement",
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("crankcase_vacuum_kpa", "kPa", "crankcase vacuum at the filler, below zero is pressure", running=True),
    Observable("crankcase_pressure_hold_kpa", "kPa", "pressure left in the crankcase after the hold time"),
    Observable("crankcase_vacuum_hold_kpa", "kPa", "vacuum left in the crankcase after the hold time"),
    Observable("bubbles_flywheel_seal", "mL/min", "air through the flywheel side seal under test pressure"),
    Observable("bubbles_pto_seal", "mL/min", "air through the drive side seal under test pressure"),
    Observable("bubbles_case_gasket", "mL/min", "air through case or base gasket under test pressure"),
    Observable("crankcase_air_leak_mm2", "mm2", "outside leak area of a two-stroke crankcase when it draws"),
    Observable("scavenge_share", "1", "fresh charge pushed over by the crankcase, over what a tight one pushes"),
    Observable("pulse_share", "1", "pulse for the fuel pump over what a tight crankcase gives"),
    Observable("reed_spit_back", "1", "chance that fuel mist is blown back out of the carburettor"),
    Observable("blow_by_l_min", "L/min", "gas past rings and gasket into the crankcase at speed", running=True),
    Observable("oil_outside", "1", "how much oil a crank seal has left under the deck or on the shed floor, 0 to 1"),
    Observable("oil_in_air_cleaner", "1", "how much oil lies in the air cleaner, 0 to 1"),
)

SIZES: tuple[Size, ...] = (
    Size("crankcase_volume_cm3", "cm3", "crankcase volume at top dead centre, with the plates on", 100.0),
    Size("breather_area_mm2", "mm2", "open area of the breather passage", 25.0),
)
TOKENS = ()
