"""Valves, lash, cam and the compression release.

Faults and what they move: F054 burnt, bent or cut: `intake_valve_leak_mm2` or `exhaust_valve_leak_mm2` (0.4-4). F055
stuck in guide: `intake_hang_mm` / `exhaust_hang_mm` (0.5-6; the valve stands open all the time), and the valve that
sticks only hot: `exhaust_hang_hot_mm` / `intake_hang_hot_mm`. F056 seat or guide loose: `valve_seat_loose` (0.3-1; with
duty), worse when hot. F057 too small: `exhaust_lash_mm` / `intake_lash_mm` (-0.08-0.03). F058 too large:
`exhaust_lash_mm` (0.35-0.8). F059 release broken: `release_lift_share` (0-0.2); stuck on: `release_stuck_on` (1). F060
pushrod off: `intake_lift_share` / `exhaust_lift_share` (0-0.4) and the lash then large. F064 cam timing:
`cam_timing_error_deg` (+-15 to +-40).

Checks: K54 reads `intake_lash_now_mm`, `exhaust_lash_now_mm` (rocker-cover off, cold). K55 reads `intake_lift_seen_mm`,
`exhaust_lift_seen_mm` and, by eye, `intake_hang_mm`, `exhaust_hang_mm`. K56 reads `release_lift_mm`. K57 reads, by eye,
`cam_timing_error_deg`. K69 hears `valve_tick`. Complaint: pops back `valve_spit_back` (lean spit-back is in mixture).
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "valves"
_NONE = Spread("fixed", 0.0)
_ALL = Spread("fixed", 1.0)

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "intake_valve_leak_mm2",
        "mm2",
        0,
        20,
        Spread("log-normal", 0.02, 0.8, high=0.15),
        _S,
        "leak area of the closed intake valve (two-stroke: 0)",
        "judgement",
    ),
    Parameter(
        "exhaust_valve_leak_mm2",
        "mm2",
        0,
        20,
        Spread("log-normal", 0.02, 0.8, high=0.15),
        _S,
        "leak area of the closed exhaust valve (two-stroke: 0)",
        "judgement",
    ),
    Parameter(
        "intake_lash_mm",
        "mm",
        -0.5,
        6,
        Spread("uniform", 0.08, 0.16),
        _S,
        "intake lash cold, free of the release; negative holds the valve open",
        "judgement",
    ),
    Parameter(
        "exhaust_lash_mm",
        "mm",
        -0.5,
        6,
        Spread("uniform", 0.10, 0.20),
        _S,
        "exhaust lash cold, free of the release; negative holds the valve open",
        "judgement",
    ),
    Parameter(
        "hot_lash_shift_mm",
        "mm",
        -0.15,
        0.15,
        Spread("normal", 0.02, 0.015, low=-0.05, high=0.06),
        _S,
        "how much the lash opens (+) or closes (-) when hot; side-valve stems close, alloy heads often open",
        "from memory, doubtful",
    ),
    Parameter("intake_hang_mm", "mm", 0, 10, _NONE, _S, "how far the intake valve hangs open", "judgement"),
    Parameter("exhaust_hang_mm", "mm", 0, 10, _NONE, _S, "how far the exhaust valve hangs open", "judgement"),
    Parameter("intake_hang_hot_mm", "mm", 0, 10, _NONE, _S, "the same, only when hot", "judgement"),
    Parameter("exhaust_hang_hot_mm", "mm", 0, 10, _NONE, _S, "the same, only when hot", "judgement"),
    Parameter("valve_seat_loose", "1", 0, 1, _NONE, _S, "how loose a valve seat or guide sits", "judgement"),
    Parameter(
        "intake_lift_share",
        "1",
        0,
        1.1,
        _ALL,
        _S,
        "intake lift over what the cam means to give; 0 when the pushrod is off",
        "judgement",
    ),
    Parameter(
        "exhaust_lift_share",
        "1",
        0,
        1.1,
        _ALL,
        _S,
        "exhaust lift over what the cam means to give; 0 when the pushrod is off",
        "judgement",
    ),
    Parameter(
        "cam_timing_error_deg",
        "deg",
        -180,
        180,
        _NONE,
        _S,
        "crank degrees by which the cam runs late (+) or early (-)",
        "judgement",
    ),
    Parameter(
        "release_lift_share",
        "1",
        0,
        1.5,
        Spread("normal", 1.0, 0.12, low=0.6, high=1.4),
        _S,
        "working of the automatic release when cranking: 1 as made, 0 never opens",
        "judgement",
    ),
    Parameter(
        "release_stuck_on",
        "1",
        0,
        1,
        _NONE,
        _S,
        "release that stays open through the whole compression and at speed: 1 stuck",
        "judgement",
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("intake_lash_now_mm", "mm", "intake lash as a feeler finds it in this arrangement, 0 when tight"),
    Observable("exhaust_lash_now_mm", "mm", "exhaust lash as a feeler finds it in this arrangement, 0 when tight"),
    Observable("intake_lift_seen_mm", "mm", "travel of the intake valve when turned by hand"),
    Observable("exhaust_lift_seen_mm", "mm", "travel of the exhaust valve when turned by hand"),
    Observable("release_lift_mm", "mm", "small extra lift of a valve on the compression stroke, turned by hand"),
    Observable("valve_tick", "1", "chance that a ticking valve gear is heard", running=True),
    Observable(
        "valve_spit_back", "1", "chance of popping back through the carburettor by an intake valve that does not close"
    ),
)

SIZES: tuple[Size, ...] = (
    Size(
        "compression_release",
        "1",
        "what lets pressure off at starting",
        "exhaust-lift",
        ("none", "exhaust-lift", "intake-lift", "hand-valve"),
    ),
    Size("release_area_mm2", "mm2", "effective opening of the release", 17.0),
    Size("release_ends_deg", "deg", "crank angle before top dead centre at which the release closes", 50.0),
    Size("release_lift_nominal_mm", "mm", "lift of the release as made", 0.35),
    Size("valve_lift_mm", "mm", "full valve lift", 5.0),
    Size("intake_valve_seat_mm", "mm", "diameter of the intake seat", 25.0),
    Size("exhaust_valve_seat_mm", "mm", "diameter of the exhaust seat", 22.0),
    Size("lash_nominal_mm", "mm", "exhaust lash at which the release lifts as made", 0.15),
)
TOKENS = ()
