"""Cylinder pressure by hand, by rope and by gauge: what differs, what is seen, what a class fixes.

Faults and what they move: F053 rings or bore worn: `ring_leak_mm2` (0.6-3), `bore_wear_mm`. F044 dust through a
missing filter brings on F053. F052 decompression valve leaking: `decompression_valve_leak_mm2` (0.5-4). F061 head
gasket to outside: `head_gasket_edge_leak_mm2` (0.5-5). F062 to the pushrod gallery: `head_gasket_gallery_leak_mm2`
(0.5-5). F063 bolts loose or head warped: `head_bolts_loose`, `head_warp_mm` with a smaller edge leak. F070
hydraulic lock: `cylinder_fuel_cm3`, `cylinder_oil_cm3`, `cylinder_water_cm3` (more than the clearance volume
locks). F067 seized: `seizure` (0.6-1). F071 foreign object: `foreign_object_damage`, `intake_valve_leak_mm2`. F072
rod or main bearing: `rod_play_mm`, `main_bearing_play_mm`, `rod_broken`. F073 scored piston: `piston_score` and
`ring_leak_mm2` (1-6). F059, F058: valves.

Checks: K04 slow pull: `compression_firmness`, `crank_locked`, `pull_effort_n` (arrangement plug in, drive rope or
lazy-rope). K05 plug out: `crank_locked`, `spat_fuel_cm3`, `spat_oil_cm3`, `spat_water_cm3`. K50 gauge:
`compression_kpa`, plug off, drive rope/drill/starter; instrument setup `gauge_hose_cm3` (default 3),
`gauge_valve_at_plug` (1 or 0), `gauge_cracking_kpa` (20), `gauge_pulls` (6). K51 wet: the same with token
oil-in-cylinder; `compression_gain_kpa` is wet less dry on the same machine. K58: `head_bolts_loose`, `head_warp_mm`.
K61: `rod_play_mm`, `main_bearing_play_mm`. K64: `piston_score`, `foreign_object_damage`.
Complaints: rope too hard `hard_pull`; jams solid `crank_locked`; no feel `easy_pull`.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "compression"
_NONE = Spread("fixed", 0.0)

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "ring_leak_mm2",
        "mm2",
        0.005,
        20,
        Spread("log-normal", 0.12, 0.35, low=0.02, high=0.5),
        _S,
        "leak area past rings and bore, dry, as a leak-down tester feels it",
        "judgement",
    ),
    Parameter(
        "ring_seat_ratio",
        "1",
        0.3,
        3,
        Spread("log-normal", 1.0, 0.3, low=0.4, high=2.5),
        _S,
        "ring leak while cranking over ring leak at rest: rings seat with pressure and oil",
        "judgement",
    ),
    Parameter(
        "bore_wear_mm",
        "mm",
        0,
        1,
        Spread("uniform", 0.0, 0.03),
        _S,
        "wear of the bore at the top of ring travel, measured or felt as a ridge",
        "judgement",
    ),
    Parameter(
        "piston_score",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.05),
        _S,
        "vertical scores on piston and bore, seen through port or plug hole",
        "judgement",
    ),
    Parameter(
        "head_gasket_edge_leak_mm2",
        "mm2",
        0,
        15,
        Spread("log-normal", 0.004, 0.5, high=0.03),
        _S,
        "leak area of the head joint to the outside",
        "judgement",
    ),
    Parameter(
        "head_gasket_gallery_leak_mm2",
        "mm2",
        0,
        15,
        Spread("log-normal", 0.003, 0.5, high=0.03),
        _S,
        "leak area of the head joint into pushrod gallery or crankcase",
        "judgement",
    ),
    Parameter(
        "head_bolts_loose",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.1),
        _S,
        "share of head bolt tension that is gone",
        "judgement",
    ),
    Parameter(
        "head_warp_mm",
        "mm",
        0,
        1,
        Spread("uniform", 0.0, 0.04),
        _S,
        "out of flatness of the head on a plate",
        "common practice: about 0.1 mm and more is bad, no source",
    ),
    Parameter(
        "decompression_valve_leak_mm2",
        "mm2",
        0,
        15,
        Spread("log-normal", 0.004, 0.6, high=0.03),
        _S,
        "leak area of a hand-pushed decompression valve; 0 where there is none",
        "judgement",
    ),
    Parameter("cylinder_fuel_cm3", "cm3", 0, 400, _NONE, _S, "liquid fuel lying in the cylinder", "judgement"),
    Parameter("cylinder_oil_cm3", "cm3", 0, 400, _NONE, _S, "oil lying in the cylinder", "judgement"),
    Parameter("cylinder_water_cm3", "cm3", 0, 400, _NONE, _S, "water lying in the cylinder", "judgement"),
    Parameter(
        "seizure",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.02),
        _S,
        "how seized piston or bearings are; above about 0.5 nobody turns it",
        "judgement",
    ),
    Parameter(
        "rod_play_mm",
        "mm",
        0,
        5,
        Spread("uniform", 0.01, 0.06),
        _S,
        "play of the big end felt by rocking the crank",
        "judgement",
    ),
    Parameter(
        "main_bearing_play_mm",
        "mm",
        0,
        3,
        Spread("uniform", 0.01, 0.06),
        _S,
        "radial play of the crank in its bearings",
        "judgement",
    ),
    Parameter("rod_broken", "1", 0, 1, _NONE, _S, "connecting rod broken: 1 broken", "common practice, no source"),
    Parameter(
        "foreign_object_damage",
        "1",
        0,
        1,
        _NONE,
        _S,
        "dents and debris of a swallowed object, seen by lamp or camera",
        "common practice, no source",
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("compression_kpa", "kPa", "gauge reading at the plug hole when the needle stops", turning=True),
    Observable("compression_gain_kpa", "kPa", "gauge reading with a little oil in, less the dry one", turning=True),
    Observable("slow_compression_kpa", "kPa", "peak gauge pressure at a slow turn by hand, plug in"),
    Observable("compression_firmness", "1", "how firm the bump of a slow pull feels, 0 none to 1 good", turning=True),
    Observable("charge_pressure_kpa", "kPa", "absolute pressure trapped when compression begins, at pulling speed"),
    Observable("spark_pressure_kpa", "kPa", "absolute cylinder pressure when the spark comes, at pulling speed"),
    Observable("spark_temperature_k", "K", "charge temperature when the spark comes, at pulling speed"),
    Observable("peak_pressure_kpa", "kPa", "absolute peak pressure unfired at pulling speed, plug in"),
    Observable("compression_work_j", "J", "work of one compression stroke, unfired, at pulling speed"),
    Observable("pull_effort_n", "N", "peak rope force, plug in or out as arranged"),
    Observable("crank_locked", "1", "chance that nobody can turn it through: seized, jammed or full of liquid"),
    Observable("spat_fuel_cm3", "cm3", "fuel thrown out of the plug hole when turned", turning=True),
    Observable("spat_oil_cm3", "cm3", "oil thrown out of the plug hole when turned", turning=True),
    Observable("spat_water_cm3", "cm3", "water thrown out of the plug hole when turned", turning=True),
    Observable("hard_pull", "1", "chance that the owner says the rope is too hard"),
    Observable("easy_pull", "1", "chance that the owner says the rope has no feel, no compression"),
)

SIZES: tuple[Size, ...] = (
    Size("displacement_cm3", "cm3", "swept volume", 160.0),
    Size("bore_mm", "mm", "bore", 68.0),
    Size("stroke_mm", "mm", "stroke", 44.0),
    Size("compression_ratio", "1", "geometric compression ratio, over the whole stroke", 8.5),
    Size("crank_to_rod", "1", "crank radius over rod length", 0.28),
    Size("cycle", "1", "four-stroke or two-stroke", "four-stroke", ("four-stroke", "two-stroke")),
    Size("valve_gear", "1", "overhead, side or ports", "overhead", ("overhead", "side", "ports")),
    Size(
        "compression_begins_deg",
        "deg",
        "crank angle before top dead centre at which the cylinder closes (intake valve or exhaust port)",
        130.0,
    ),
    Size("wet_test_oil_cm3", "cm3", "oil put in for a wet test", 3.0),
    Size("rope_radius_mm", "mm", "radius at which the rope pulls on the starter reel", 28.0),
)
TOKENS = ()
