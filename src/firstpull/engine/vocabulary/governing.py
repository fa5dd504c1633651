"""Speed: governor, springs, links, throttle control, idle stop; hunting.

Which fault moves what: F085 comes from the mixture (no parameter of its own) · F086 governor_spring_rate,
governor_spring_off, governor_spring_hole · F087 governor_link_off, governor_link_play, governor_friction ·
F088 vane_damage (vane classes) · F089 governor_static_error · F090 governor_internal_wear · F091
top_speed_set_rpm · F092 throttle_cable_share, throttle_cable_stiff · idle set wrong: idle_set_rpm ·
throttle return: throttle_return_weak.

Which check reads what: K36 governor_spring_off, governor_link_off, governor_link_play, governor_friction,
vane_damage, governor_spring_hole (seen), spring_opens_throttle · K37 governor_static_error (seen) · K38
idle_rpm, top_rpm, droop_percent, loaded_rpm · K33 choke_response (mixture), hunting_swing_rpm by choke ·
K75 idle_rpm · complaints: hunting_swing_rpm, hunting_hz, overspeed, races_at_idle, idle_keeps.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "governing"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)


def _extent(name: str, meaning: str, healthy: Spread = _NONE) -> Parameter:
    return Parameter(name, "1", 0.0, 1.0, healthy, _S, meaning, _GUESS)


PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "top_speed_set_rpm",
        "rpm",
        500.0,
        16000.0,
        Spread("normal", 3050.0, 70.0, low=2850.0, high=3250.0),
        _S,
        "no-load top speed at which the stop or screw is set; the speed it aims at with the right spring",
        "mower about 3,000 r/min, common practice; spread judgement",
    ),
    Parameter(
        "idle_set_rpm",
        "rpm",
        300.0,
        6000.0,
        Spread("normal", 1800.0, 90.0, low=1550.0, high=2050.0),
        _S,
        "idle speed at which the throttle stop is set with a sound mixture",
        "common practice, no source",
    ),
    Parameter(
        "governor_spring_rate",
        "1",
        0.05,
        3.0,
        Spread("normal", 1.0, 0.04, low=0.88, high=1.12),
        _S,
        "pull of the governor spring over the right one: stretched is less, wrong is either",
        _GUESS,
    ),
    _extent("governor_spring_off", "governor spring missing or unhooked, 0 on or 1 off"),
    Parameter(
        "governor_spring_hole",
        "1",
        -3.0,
        3.0,
        _NONE,
        _S,
        "holes away from the right one: inward (nervous) is positive, outward (lazy) negative",
        _GUESS,
    ),
    _extent("governor_link_off", "link between governor arm and throttle off, 0 on or 1 off"),
    Parameter(
        "governor_link_play",
        "1",
        0.0,
        1.0,
        Spread("uniform", 0.0, 0.05),
        _S,
        "lost motion between governor arm and throttle as a share of the full travel",
        _GUESS,
    ),
    _extent(
        "governor_friction",
        "stickiness of throttle and linkage: dirt, bent, dry, 0 free to 1 stuck",
        Spread("uniform", 0.0, 0.08),
    ),
    _extent("vane_damage", "air vane broken, loose or fouled, 0 sound to 1 gone; of no use without a vane"),
    _extent(
        "governor_static_error",
        "arm slipped on its shaft: share of the governor's travel that is lost",
        Spread("uniform", 0.0, 0.05),
    ),
    _extent("governor_internal_wear", "flyweights, cup or shaft worn or broken, 0 sound to 1 gone"),
    _extent(
        "throttle_cable_share",
        "how much of the full speed position the hand control reaches",
        Spread("uniform", 0.96, 1.0),
    ),
    _extent(
        "throttle_cable_stiff",
        "hand control stiff or seized, 0 free to 1 seized",
        Spread("uniform", 0.0, 0.1),
    ),
    _extent("throttle_return_weak", "throttle return spring weak, 0 right to 1 none"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("idle_rpm", "rpm", "speed at the slow position, no load", running=True),
    Observable("top_rpm", "rpm", "speed at the fast position, no load", running=True),
    Observable("loaded_rpm", "rpm", "speed at the fast position under the load of the arrangement", running=True),
    Observable("droop_percent", "%", "fall of speed from no load to half load", running=True),
    Observable("hunting_swing_rpm", "rpm", "how far speed swings to each side at fast and no load", running=True),
    Observable("hunting_hz", "Hz", "swings a second; NaN where it does not hunt", running=True),
    Observable("overspeed", "1", "chance that it runs dangerously fast (more than a tenth above its set top speed)"),
    Observable("races_at_idle", "1", "chance that people would say it idles much too fast", running=True),
    Observable(
        "spring_opens_throttle",
        "1",
        "stopped: how surely the spring holds the throttle open and it moves freely",
    ),
    Observable(
        "speed_follows_control",
        "1",
        "how well speed follows the hand control, 0 not to 1 fully",
        running=True,
    ),
)

SIZES: tuple[Size, ...] = (
    Size("governor_kind", "1", "what holds the speed", "mechanical", ("mechanical", "vane", "none")),
    Size("rated_power_w", "W", "power at top speed of a sound machine at sea level", 2400.0),
    Size("rated_load_share", "1", "share of that power which the full load of the machine takes", 0.6),
    Size(
        "governor_droop",
        "1",
        "fall of speed over the full travel of the governor as a share of top speed",
        0.12,
    ),
    Size("usual_top_rpm", "rpm", "no-load top speed of a usual sound machine of the class", 3050.0),
    Size("usual_idle_rpm", "rpm", "idle speed of a usual sound machine of the class", 1800.0),
)

TOKENS: tuple[Token, ...] = ()
