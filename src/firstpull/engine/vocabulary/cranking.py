"""Cranking: who or what spins the crank and how fast; the recoil starter.

F075 rope_wear, rope_broken, rope_guide_wear · F076 rewind_strength (0 broken, 0.3-0.6 under-wound),
rewind_overwound · F077 pawl_slip · F078 reel_drag_nm, rope_off_reel · F079 cup_slip · F080 ring_teeth_lost (the fan:
see cooling). A weak or hard pull: pull_strength. F070 and seizure act through the engine's lock, brake and load
through drag.

K04 K05 turns, rope_drag_n (the compression bump: see compression) · K44 rope_return, with the eye rope_wear,
rope_guide_wear · K45 with the eye pawl_slip, cup_slip, rope_off_reel, rewind_overwound · K46 with the eye
ring_teeth_lost. Complaints: limp or stays out rope_stays_out, pulls with no turning rope_slips, too hard rope_drag_n
and hard_pull of compression, rope broke rope_broken (eye), grating starter_grating.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "recoil"
_J = "judgement"


def _p(id: str, unit: str, low: float, high: float, healthy: Spread, meaning: str) -> Parameter:
    return Parameter(id, unit, low, high, healthy, _S, meaning, _J)


def _never(id: str, meaning: str) -> Parameter:
    return _p(id, "1", 0.0, 1.0, Spread("fixed", 0.0), meaning)


PARAMETERS: tuple[Parameter, ...] = (
    _p("pull_strength", "1", 0.3, 2.0, Spread("log-normal", 1.0, 0.12), "arm of the one who pulls, a usual one 1"),
    _never("rope_wear", "rope frayed or worn"),
    _never("rope_broken", "rope broken or gone"),
    _never("rope_guide_wear", "rope guide cut or missing"),
    _never("rope_off_reel", "rope off its reel or crossed"),
    _p("rewind_strength", "1", 0.0, 1.5, Spread("normal", 1.0, 0.06), "rewind spring with its pre-wind over nominal"),
    _never("rewind_overwound", "rewind spring wound so far that the rope stops short"),
    _never("pawl_slip", "pawls worn, dry or stuck: share of the pull that slips"),
    _never("cup_slip", "starter cup cracked or loose: share of the pull that slips"),
    _p("reel_drag_nm", "N.m", 0.0, 30.0, Spread("log-normal", 0.25, 0.3), "friction of reel and rope in the starter"),
    _never("ring_teeth_lost", "share of the ring-gear teeth broken off"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("crank_rpm", "rpm", "mean crank speed at this drive", turning=True),
    Observable("turns", "1", "whether this drive turns the crank (1) or not (0)"),
    Observable("rope_drag_n", "N", "steady rope force of everything but compression"),
    Observable("rope_return", "1", "how well the rope goes back: 1 snaps back, 0 hangs out", roped=True),
    Observable("rope_fray", "1", "how frayed the rope looks to its owner, 0 to 1", roped=True),
    Observable("rope_stays_out", "1", "how surely the rope hangs limp or stays out", roped=True),
    Observable("rope_slips", "1", "how surely the rope pulls out with no turning", roped=True),
    Observable("rope_length_share", "1", "length of rope that can be pulled over the full length"),
    Observable("starter_grating", "1", "how loudly the starter grates"),
)

SIZES: tuple[Size, ...] = (
    Size("rope_in_cover", "1", "the rope starter sits in the cover that comes off", "yes", ("yes", "no")),
    Size("usual_rope_rpm", "rpm", "mean crank speed of a usual pull, plug in, healthy machine", 550.0),
    Size("drill_rpm", "rpm", "usual speed of a drill on the flywheel nut, plug out", 1000.0),
)
