"""Leak-down at top dead centre: how much escapes, and where it hisses.

Reads the leak areas of compression and valves; owns no parameter. The crank must be held (token crank-held) and the
plug out. Instrument setup: `leak_reference_mm2` (reference orifice, default 0.30), `leak_supply_kpa` (gauge supply,
default 550).

Checks: K53 reads `leakdown_percent`, and the place of the hiss by `hiss_*` (flow there) or `hiss_*_excess` (flow there
less the loudest other place: "much more here than elsewhere"). Ring hiss is heard on nearly every healthy engine, so a
hiss at the filler alone is no verdict. Faults seen so: F052-F063, F071, F073; F057 (tight lash) reads like F054.
"""

from __future__ import annotations

from firstpull.engine.vocabulary.types import Observable

_PLACES = {
    "carburettor": "at the carburettor mouth (intake valve)",
    "muffler": "at the muffler (exhaust valve)",
    "filler": "at the oil filler or breather (rings, two-stroke: transfer ports)",
    "head_edge": "at the edge of the head joint, as bubbles or a chuff",
    "pushrod": "on the pushrod side under the rocker cover (gasket to the gallery)",
    "decompression": "at the hand decompression valve",
}

PARAMETERS = ()
OBSERVABLES: tuple[Observable, ...] = (
    Observable("leakdown_percent", "%", "reading of the leak-down tester: share of pressure lost over the reference"),
    Observable("leakdown_flow", "L/min", "free air that escapes in all, at the tester's pressure"),
    *(Observable(f"hiss_{place}", "L/min", f"free air escaping {text}") for place, text in _PLACES.items()),
    *(
        Observable(f"hiss_{place}_excess", "L/min", f"escaping {text}, less the loudest other place")
        for place, text in _PLACES.items()
    ),
    Observable("leakdown_swing_nm", "N.m", "torque on the crank 10 degrees off dead centre under the tester's air"),
)
SIZES = ()
TOKENS = ()
