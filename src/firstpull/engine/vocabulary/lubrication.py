"""Oil: how much, what is in it, where it gets burnt, and the noises of the parts it should keep apart.

Faults and what they move: F066 overfilled: `oil_level_mm` (+8-+30); wrong grade: `oil_viscosity_ratio`. F067 low:
`oil_level_mm` (-10 to -40), `seizure`, `piston_score`. F068 diluted: `oil_fuel_share` (0.08-0.5) and `oil_level_mm` up.
F069 water: `oil_water_share` (0.02-0.3) and `oil_level_mm` up. F097 oil after tipping: `muffler_oil_cm3` (3-40). F053,
F062, F065: oil smoke through rings, gallery, breather. Worn guides: `guide_wear_mm`. F024 no oil in the mix: seen as
`piston_score` and the fuel file's oil share. F072: `oil_metal`, `rod_play_mm`, `main_bearing_play_mm`. F100 and F111
are with the driven load.

Checks: K52 reads `oil_level_reading_mm`, sees `oil_fuel_share` (smell), `oil_water_share` (milk), `oil_metal`,
`oil_darkness`. K66 sees `blue_smoke`, `white_smoke`, `smoke_clears_min`. K69 hears `rod_knock`, `squeal`. K61 rocks
`rod_play_mm`. K06/K15 see `oil_on_plug`. Complaints: blue
smoke, big white cloud, knocks, squeals.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "lubrication"
_NONE = Spread("fixed", 0.0)

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "oil_level_mm",
        "mm",
        -60,
        80,
        Spread("normal", -2.0, 3.0, low=-9, high=4),
        _S,
        "oil level above the full mark",
        "judgement",
    ),
    Parameter(
        "oil_viscosity_ratio",
        "1",
        0.2,
        4,
        Spread("log-normal", 1.0, 0.1, low=0.7, high=1.4),
        _S,
        "thickness of the oil over the right grade, before fuel thins it",
        "judgement",
    ),
    Parameter("oil_fuel_share", "1", 0, 0.8, Spread("uniform", 0.0, 0.02), _S, "share of fuel in the oil", "judgement"),
    Parameter(
        "oil_water_share", "1", 0, 0.6, Spread("uniform", 0.0, 0.003), _S, "share of water in the oil", "judgement"
    ),
    Parameter("oil_metal", "1", 0, 1, Spread("uniform", 0.0, 0.08), _S, "glitter of metal in the oil", "judgement"),
    Parameter(
        "oil_darkness", "1", 0, 1, Spread("uniform", 0.1, 0.7), _S, "how dark and old the oil looks", "judgement"
    ),
    Parameter("muffler_oil_cm3", "cm3", 0, 150, _NONE, _S, "oil lying in muffler and port after tipping", "judgement"),
    Parameter(
        "guide_wear_mm", "mm", 0, 1, Spread("uniform", 0.02, 0.07), _S, "play of a valve in its guide", "judgement"
    ),
)
OBSERVABLES: tuple[Observable, ...] = (
    Observable("oil_level_reading_mm", "mm", "dipstick reading above the full mark, machine level"),
    Observable("oil_film_share", "1", "oil film in the big end over a healthy one's, in this arrangement"),
    Observable("oil_burnt", "mL/min", "oil burnt at work", running=True),
    Observable("blue_smoke", "1", "chance that blue smoke is seen at work", running=True),
    Observable("white_smoke", "1", "chance that a white cloud is seen (oil in the muffler, or water)", running=True),
    Observable("smoke_puff_at_start", "1", "chance of a blue puff in the first seconds", running=True),
    Observable("smoke_clears_min", "min", "minutes until oil lying in the muffler is burnt off", running=True),
    Observable("oil_on_plug", "1", "how oily the plug is, 0 to 1"),
    Observable("rod_knock", "1", "chance that a knock of rod or bearing is heard", running=True),
    Observable("squeal", "1", "chance that dry metal is heard", running=True),
    Observable("rattle", "1", "chance that a metallic rattle inside is heard when turned or running", turning=True),
)
SIZES: tuple[Size, ...] = (
    Size("oil_capacity_cm3", "cm3", "oil in the sump at the full mark; 0 where oil is mixed with the fuel", 550.0),
    Size("sump_area_mm2", "mm2", "surface of the oil in the sump", 13000.0),
)
TOKENS = ()
