"""Cooling air and head temperature.

Faults and what they move: F095 fins, screen or shroud: `fin_blockage` (0.4-0.95), `air_screen_blockage` (0.4-0.95),
`cooling_shroud_missing` (1). F080 fan vanes broken: `fan_vanes_lost` (0.3-0.8). F018 late spark, F085 lean, F067 low
oil, F102 dragging brake reach head temperature through timing, mixture, oil and load.

Checks: K65 sees `fin_blockage`, `air_screen_blockage`, `cooling_shroud_missing`. K46 sees `fan_vanes_lost`. K67 reads
`head_c` (drive running, thermal hot; cold reads the first minute). Complaints: hot smell `hot_smell`, loses power when
hot `heat_fade`.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "cooling"

PARAMETERS: tuple[Parameter, ...] = (
    Parameter("fin_blockage", "1", 0, 1, Spread("uniform", 0.0, 0.2), _S, "share of the fins packed", "judgement"),
    Parameter(
        "air_screen_blockage",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.2),
        _S,
        "share of the cooling air screen that is covered",
        "judgement",
    ),
    Parameter(
        "cooling_shroud_missing",
        "1",
        0,
        1,
        Spread("fixed", 0.0),
        _S,
        "air guide over the fins missing or broken: 1 missing",
        "judgement",
    ),
    Parameter(
        "fan_vanes_lost", "1", 0, 1, Spread("fixed", 0.0), _S, "share of flywheel fan vanes broken off", "judgement"
    ),
)
OBSERVABLES: tuple[Observable, ...] = (
    Observable("head_c", "C", "head temperature by infra-red beside the plug, settled when hot", running=True),
    Observable("hot_smell", "1", "chance that the owner smells that it is too hot", running=True),
    Observable("heat_fade", "1", "share of torque lost once hot, by heat alone", running=True),
    Observable("head_settle_min", "min", "minutes until the head temperature settles", running=True),
)
SIZES: tuple[Size, ...] = (
    Size("head_mass_kg", "kg", "mass of head and barrel that warms", 2.5),
    Size(
        "cooling_w_per_k",
        "1",
        "heat given off a degree at working speed with clean fins, in W/K; about 4.4 a kilowatt rated",
        10.5,
    ),
)
TOKENS = ()
