"""The burn: torque against timing and mixture, running on, pinging, bangs in the muffler, what compression costs.

Faults and what they move: F096 carbon: `combustion_carbon` (0.5-1). F018 key sheared, F020 wrong trigger and F064 cam
reach this file through spark and valve timing. F002, F001 through the spark. F039, F043 through mixture.

Checks: K64 sees `combustion_carbon`. K68 feels `engine_power_share`. Complaints: no power `engine_power_share` (1
is full), bangs when shut off `after_fire`, backfire at starting `backfire_chance`, pinging `pinging`, runs on hot
`runs_on`. A fuel solenoid under the bowl (fuel: `bowl_solenoid_shuts`) keeps the muffler from banging.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "combustion"

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "combustion_carbon",
        "1",
        0,
        1,
        Spread("uniform", 0.0, 0.35),
        _S,
        "carbon on piston and head, 1 a thick crust",
        "judgement",
    ),
    Parameter(
        "burn_speed_ratio",
        "1",
        0.5,
        1.6,
        Spread("log-normal", 1.0, 0.08, low=0.75, high=1.3),
        _S,
        "burning speed of this chamber over a usual one",
        "judgement",
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable(
        "engine_power_share",
        "1",
        "full-load torque over a healthy one's, by compression, timing, mixture and breathing",
        running=True,
    ),
    Observable("timing_torque_share", "1", "torque over the best that spark timing could give", running=True),
    Observable("compression_torque_share", "1", "torque that leaks, release and lift leave, over a healthy one's"),
    Observable("indicated_kpa", "kPa", "indicated mean effective pressure, full throttle at speed", running=True),
    Observable("after_fire", "1", "chance of a bang in the muffler when shut off", running=True),
    Observable("backfire_chance", "1", "chance of a bang through muffler or carburettor on a starting pull"),
    Observable("pinging", "1", "chance that pinging under load is heard", running=True),
    Observable("runs_on", "1", "chance that it fires on by hot carbon after the spark is cut", running=True),
    Observable("no_power", "1", "chance that the owner says it has no power", running=True),
)

SIZES: tuple[Size, ...] = (
    Size("rated_speed_rpm", "rpm", "speed at which it does its work", 3000.0),
    Size("design_spark_deg", "deg", "spark before top dead centre as made", 23.0),
)
TOKENS = ()
