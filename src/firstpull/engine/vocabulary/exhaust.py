"""The way out: muffler, spark screen, exhaust port.

Faults and what they move: F093 muffler blocked or nested: `muffler_blockage` (0.5-0.98); screen: `screen_blockage`
(0.5-0.98; gone when token screen or muffler is off); port carbon on two-strokes: `port_carbon` (0.4-0.9). F094 loose,
cracked: `muffler_leak` (0.3-1).

Checks: K62 feels `exhaust_puff`, sees `screen_blockage`. K63 (screen out only): `engine_power_share` with token
screen off. K64 sees `port_carbon`. K03 sees `muffler_leak`, `muffler_loose`. K67 through `head_c`. Complaint: loud
`exhaust_bark`.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "exhaust"

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "muffler_blockage",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.15),
        _S,
        "share of the muffler's way that is shut",
        "judgement",
    ),
    Parameter(
        "screen_blockage",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.25),
        _S,
        "share of the spark screen that is shut",
        "judgement",
    ),
    Parameter(
        "port_carbon",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.15),
        _S,
        "share of the exhaust port shut by carbon",
        "judgement",
    ),
    Parameter(
        "muffler_leak",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.06),
        _S,
        "muffler cracked or its joint blowing, 0 to 1",
        "judgement",
    ),
    Parameter(
        "muffler_loose",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.05),
        _S,
        "muffler fasteners loose, as felt by hand",
        "judgement",
    ),
)
OBSERVABLES: tuple[Observable, ...] = (
    Observable(
        "breathing",
        "1",
        "how freely it breathes, out by port and muffler and over from a two-stroke crankcase, in step",
    ),
    Observable("exhaust_backpressure_kpa", "kPa", "mean back pressure at full load and speed", running=True),
    Observable("residual_share", "1", "burnt gas left in the fresh charge"),
    Observable("exhaust_puff", "1", "strength of the puff at the outlet, 1 strong", turning=True),
    Observable("exhaust_bark", "1", "chance that the exhaust is called loud", running=True),
)
SIZES: tuple[Size, ...] = (
    Size("muffler_area_mm2", "mm2", "effective opening of a clean muffler with its screen", 120.0),
    Size("spark_screen", "1", "whether there is a spark screen", "yes", ("yes", "no")),
)
TOKENS = ()
