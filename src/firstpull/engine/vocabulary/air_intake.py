"""The way of the air: filter, joints and boots between filter and engine.

Which fault moves what: F043 filter_blockage, filter_oily · F044 filter_missing · F045
carburettor_joint_leak_mm2, carburettor_loose · F046 manifold_leak_mm2, manifold_crack · F047 boot_leak_mm2
· nest or rag in the intake: intake_debris. (Crankcase seals and joints, F048 and F049, belong to the gas
side and add to intake_leak_mm2 there.)

Which check reads what: K15, K27 filter_blockage, filter_oily, filter_missing, intake_debris (seen) · K40
soapy water at pressure: carburettor_joint_bubbles, manifold_bubbles, boot_bubbles · K03 carburettor_loose
(seen).
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "air-intake"
_GUESS = "judgement"
_NONE = Spread("fixed", 0.0)
_TIGHT = Spread("log-normal", 0.04, 0.6, low=0.0, high=0.3)

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "filter_blockage",
        "1",
        0.0,
        1.0,
        Spread("uniform", 0.0, 0.35),
        _S,
        "share of the air filter that is closed",
        _GUESS,
    ),
    Parameter(
        "filter_oily",
        "1",
        0.0,
        1.0,
        _NONE,
        _S,
        "oil or water in the filter element, 0 dry to 1 soaked",
        _GUESS,
    ),
    Parameter(
        "filter_missing",
        "1",
        0.0,
        1.0,
        _NONE,
        _S,
        "filter missing or badly fitted, 0 right to 1 missing",
        _GUESS,
    ),
    Parameter(
        "intake_debris",
        "1",
        0.0,
        1.0,
        _NONE,
        _S,
        "nest, rag or debris in the air way, 0 free to 1 stopped",
        _GUESS,
    ),
    Parameter(
        "carburettor_loose",
        "1",
        0.0,
        1.0,
        _NONE,
        _S,
        "carburettor or its screws loose to the hand, 0 tight to 1 loose",
        _GUESS,
    ),
    Parameter(
        "carburettor_joint_leak_mm2",
        "mm2",
        0.0,
        40.0,
        _TIGHT,
        _S,
        "air leak at the carburettor gasket",
        _GUESS,
    ),
    Parameter(
        "manifold_leak_mm2",
        "mm2",
        0.0,
        40.0,
        _TIGHT,
        _S,
        "air leak at manifold, spacer or its O-ring",
        _GUESS,
    ),
    Parameter("manifold_crack", "1", 0.0, 1.0, _NONE, _S, "visible crack or warp of manifold or spacer", _GUESS),
    Parameter(
        "boot_leak_mm2",
        "mm2",
        0.0,
        80.0,
        _TIGHT,
        _S,
        "air leak at a rubber intake boot; of no use without one",
        _GUESS,
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("intake_leak_mm2", "mm2", "all air that enters between throttle and engine unmetered"),
    Observable("filter_drop_kpa", "kPa", "suction behind the air filter at full air flow"),
    Observable("air_share", "1", "air drawn at full throttle over that of a clean air way"),
    Observable(
        "carburettor_joint_bubbles",
        "1",
        "bubbles at the carburettor joint under a small pressure, 0 none to 1 strong",
    ),
    Observable("manifold_bubbles", "1", "bubbles at manifold or spacer under a small pressure, 0 none to 1 strong"),
    Observable("boot_bubbles", "1", "bubbles at the intake boot under a small pressure, 0 none to 1 strong"),
    Observable(
        "better_without_filter",
        "1",
        "how much better it runs with the air cleaner off, 0 no change to 1 cured",
    ),
)

SIZES: tuple[Size, ...] = (
    Size("intake_boot", "1", "rubber boot between carburettor and engine", "no", ("no", "yes")),
    Size("throat_mm", "mm", "bore of the carburettor at the throttle", 18.0),
)

TOKENS: tuple[Token, ...] = ()
