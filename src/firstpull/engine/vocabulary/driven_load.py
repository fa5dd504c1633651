"""What the engine drives: blade, cutter, auger, tines, clutch, belts, gearbox; drag and shaking.

Which fault moves what: F098 blade_loose, blade_missing, blade_upside_down · F099 blade_imbalance_gmm,
blade_bent, blade_crack, blade_blunt · F100 shaft_runout_mm · F101 deck_packed, object_jammed · F104
blade_clutch_drag, blade_clutch_slip · F105 belt_slack, belt_glaze, belt_off, belt_wrong · F106 tool_jammed,
shear_pin_gone, shear_pin_wrong, gearbox_wear · F107 clutch_spring_weak, clutch_shoe_wear · F110 load_seized
· F111 mounts_loose. F102 is in blade_stop.

Which check reads what: K04 drag_torque_nm (with crank_locked of the gas side), by load on or off · K39
vibration_mm_s with blade on or off · K70 blade_loose, blade_bent, blade_crack, blade_upside_down,
blade_blunt, deck_packed (seen), blade_balance_gmm · K71 shaft_wobble_mm · K74 belt_slack, belt_glaze,
belt_off, belt_wrong, shear_pin_gone, shear_pin_wrong, tool_jammed (seen), belt_grip · K75 tool_creep,
clutch_bite_rpm · K03 mounts_loose (seen) · K68 tool_works.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "driven-load"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    _extent("blade_loose", "blade, adapter or cutter loose on the shaft or its key sheared, 0 tight to 1 free"),
    _extent("blade_missing", "blade missing, 0 fitted or 1 missing"),
    _extent("blade_upside_down", "blade fitted upside down, 0 right or 1 wrong"),
    Parameter(
        "blade_imbalance_gmm",
        "g.mm",
        0.0,
        20000.0,
        Spread("log-normal", 60.0, 0.5, low=5.0, high=300.0),
        _S,
        "mass of the blade or cutter times its offset from the shaft",
        _GUESS,
    ),
    _extent("blade_bent", "blade bent, 0 straight to 1 plainly bent"),
    _extent("blade_crack", "blade cracked or worn thin, 0 sound to 1 cracked"),
    _extent("blade_blunt", "blade or chain blunt, 0 sharp to 1 round", Spread("uniform", 0.0, 0.5)),
    Parameter(
        "shaft_runout_mm",
        "mm",
        0.0,
        12.0,
        Spread("log-normal", 0.04, 0.4, low=0.01, high=0.15),
        _S,
        "wobble of the shaft end at the blade seat, total indicator reading",
        _GUESS,
    ),
    _extent("deck_packed", "deck or housing packed with grass, snow or earth", Spread("uniform", 0.0, 0.3)),
    _extent("object_jammed", "something jams the blade or impeller, 0 free to 1 solid"),
    _extent("blade_clutch_drag", "blade clutch or its brake seized or wrongly assembled, so that it keeps turning"),
    _extent("blade_clutch_slip", "blade clutch slipping, 0 grips to 1 slips wholly"),
    _extent("belt_slack", "belt slack, 0 right to 1 hanging", Spread("uniform", 0.0, 0.15)),
    _extent("belt_glaze", "belt glazed, worn or oily, 0 new to 1 polished", Spread("uniform", 0.0, 0.3)),
    _extent("belt_off", "belt off or broken, 0 on or 1 off"),
    _extent("belt_wrong", "belt of the wrong size or guides missing, so that it does not let go"),
    _extent("tool_jammed", "auger, tines, chain or gearbox jammed, 0 free to 1 solid"),
    _extent("shear_pin_gone", "shear pin or drive key gone, 0 in or 1 gone"),
    _extent("shear_pin_wrong", "plain bolt in place of the shear pin, 0 right or 1 wrong"),
    _extent("gearbox_wear", "gearbox or drive worn, 0 sound to 1 does not drive"),
    _extent("clutch_spring_weak", "springs of a centrifugal clutch weak or broken, 0 right to 1 none"),
    _extent(
        "clutch_shoe_wear",
        "shoes of a centrifugal clutch worn or oily, 0 new to 1 gone",
        Spread("uniform", 0.0, 0.25),
    ),
    Parameter(
        "clutch_bite_set_rpm",
        "rpm",
        1000.0,
        7000.0,
        Spread("normal", 4000.0, 150.0, low=3600.0, high=4500.0),
        _S,
        "speed at which a sound centrifugal clutch begins to drive",
        "common practice, no source",
    ),
    _extent("mounts_loose", "engine loose on its deck or frame, or mounts torn, 0 tight to 1 loose"),
    _extent("load_seized", "driven pump, hydraulic pump or load seized, 0 free to 1 locked"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable(
        "drag_torque_nm",
        "N.m",
        "torque that brake, belt, clutch and load ask for at the crank while it is pulled over",
    ),
    Observable("inertia_kgm2", "kg.m2", "flywheel and whatever turns rigidly with it"),
    Observable("vibration_mm_s", "mm/s", "shaking of deck or handle at working speed, effective value", running=True),
    Observable("blade_balance_gmm", "g.mm", "imbalance of the blade on a balancer"),
    Observable("shaft_wobble_mm", "mm", "total indicator reading at the blade seat, turned by hand"),
    Observable("tool_creep", "1", "share of idle time that the tool turns although it should not", running=True),
    Observable("clutch_bite_rpm", "rpm", "speed at which the tool begins to turn", running=True),
    Observable("belt_grip", "1", "share of the full load torque that the drive can pass on, 0 to 1 and above capped"),
    Observable("belt_lets_go", "1", "how surely the drive lets go when released, 0 keeps driving to 1 at once"),
    Observable("tool_works", "1", "how well the tool does its work, 0 nothing to 1 as new", running=True),
    Observable("tip_speed_m_s", "m/s", "speed of the blade tip at fast, no load", running=True),
    Observable("load_torque_share", "1", "torque of the working load over that of a clean sound machine"),
    Observable("blade_knock", "1", "chance that a loose blade, mount or pin is heard or felt", running=True),
)

SIZES: tuple[Size, ...] = (
    Size(
        "driven_load",
        "1",
        "what it drives",
        "blade",
        (
            "blade",
            "cutter",
            "chain",
            "auger",
            "tines",
            "fan",
            "pump",
            "washer",
            "splitter",
            "generator",
            "none",
        ),
    ),
    Size("blade_inertia_kgm2", "kg.m2", "blade, cutter, fan or rotor that turns rigidly with the crank", 0.026),
    Size("flywheel_inertia_kgm2", "kg.m2", "flywheel and crank", 0.006),
    Size("blade_length_mm", "mm", "tip circle of the blade; 0 where there is none", 533.0),
    Size("machine_mass_kg", "kg", "mass that shakes: deck, engine, frame", 24.0),
    Size("clutch", "1", "centrifugal clutch", "no", ("no", "yes")),
    Size("belt", "1", "belt between engine and tool", "no", ("no", "yes")),
    Size("blade_clutch", "1", "blade brake clutch that leaves the engine running", "no", ("no", "yes")),
)

TOKENS: tuple[Token, ...] = ()
