"""Stopping the blade: flywheel or blade brake, its cable and spring.

Which fault moves what: F102 brake_drag_nm, brake_cable_slack_mm · F103 brake_pad_wear, brake_spring_share,
brake_oily · F013 and F014 (switch) belong to the stop circuit; a cable that does not pull off the brake:
brake_cable_slack_mm.

Which check reads what: K72 stop_time_s · K73 brake_pad_wear, brake_cable_slack_mm, brake_spring_share
(seen), brake_frees, brake_bites · K04, K05 drag_torque_nm · complaints: blade_keeps_going.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "blade-stop"
_GUESS = "judgement"

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "brake_drag_nm",
        "N.m",
        0.0,
        12.0,
        Spread("uniform", 0.0, 0.1),
        _S,
        "torque of the brake that stays when the control is held",
        _GUESS,
    ),
    Parameter(
        "brake_pad_wear",
        "1",
        0.0,
        1.0,
        Spread("uniform", 0.0, 0.5),
        _S,
        "brake lining worn, 0 new to 1 gone",
        _GUESS,
    ),
    Parameter(
        "brake_spring_share",
        "1",
        0.0,
        1.3,
        Spread("normal", 1.0, 0.05, low=0.85, high=1.15),
        _S,
        "pull of the brake spring over a new one",
        _GUESS,
    ),
    Parameter(
        "brake_oily",
        "1",
        0.0,
        1.0,
        Spread("fixed", 0.0),
        _S,
        "oil on lining or rim, 0 dry to 1 soaked",
        _GUESS,
    ),
    Parameter(
        "brake_cable_slack_mm",
        "mm",
        0.0,
        25.0,
        Spread("uniform", 0.5, 3.0),
        _S,
        "slack of the control cable: too much leaves brake on and switch closed with the control held",
        _GUESS,
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("stop_time_s", "s", "time from letting go of the control until the blade stands", running=True),
    Observable("brake_frees", "1", "how fully the brake comes off with the control held, 0 to 1"),
    Observable("brake_bites", "1", "how firmly the brake grips with the control let go, 0 to 1"),
    Observable("brake_torque_nm", "N.m", "torque of the brake with the control let go"),
    Observable("blade_keeps_going", "1", "chance that people would say the blade runs on"),
)

SIZES: tuple[Size, ...] = (
    Size("brake", "1", "flywheel or blade brake", "yes", ("no", "yes")),
    Size("brake_torque_new_nm", "N.m", "torque of a sound brake at the crank", 5.2),
    Size("stop_limit_s", "s", "stop time limit held for this class; 0 where none is held", 3.0),
)

TOKENS: tuple[Token, ...] = ()
