"""The things that can be off and the things that can be added, as physics and safety understand them."""

from __future__ import annotations

from firstpull.engine.vocabulary.types import Token

_OFF = {
    "plug-lead": "plug lead off the plug and earthed",
    "plug": "spark plug out of its hole",
    "shroud": "starter housing or blower cover off",
    "stop-lead": "stop lead unplugged at the coil",
    "air-cleaner": "air cleaner off",
    "fuel-cap": "tank cap loosened",
    "fuel-tap": "fuel tap shut",
    "fuel": "fuel drained",
    "fuel-hose": "fuel hose off, fuel open",
    "bowl": "float bowl or metering cover off, fuel open",
    "carburettor": "carburettor off",
    "muffler": "muffler off",
    "screen": "spark screen out, muffler on",
    "rocker-cover": "rocker or tappet cover off",
    "flywheel-nut": "flywheel nut, cup and washer off, keyway in view",
    "flywheel": "flywheel off",
    "head": "cylinder head off",
    "crankcase": "crankcase open",
    "blade": "blade, cutter or tool off",
    "load": "driven load uncoupled",
    "belt": "belt or drive cover off",
    "oil": "oil drained",
    "battery-earth": "battery earth off",
    "governor-spring": "governor spring unhooked",
    "low-oil-lead": "low-oil switch unplugged",
    "interlocks": "interlock connectors unplugged for metering",
    "end-cover": "electrical end cover off",
    "breaker": "output breaker open",
    "guard": "a guard off",
    "starter": "starter motor off",
    "torque": "bolts only started, not yet torqued",
}
_ADDED = {
    "control-held": "operator control held by hand or strap",
    "tester-on-lead": "plug lead on an earthed stand-alone spark tester",
    "in-line-tester": "in-line tester between lead and plug",
    "hole-covered": "plug hole covered, tester at arm's length",
    "clip-switch": "earthing clip switch on the coil tab, tried",
    "drill-on-nut": "drill on the flywheel nut",
    "blade-clear": "blade path clear, nobody near it",
    "blade-blocked": "blade blocked",
    "crank-held": "crank held by a bar or blocked flywheel",
    "oil-in-cylinder": "a little oil in the cylinder",
    "primed": "a few drops of fresh fuel in the intake, can shut and away",
    "fresh-fuel": "run from a small can of fresh fuel",
    "lent-plug": "a known good plug lent by the shop",
    "lent-coil": "a known good coil lent by the shop",
    "jumper": "a jumper fitted",
    "bridged-switch": "an operator or interlock switch bridged",
    "ports-blocked": "ports blocked for a pressure test",
    "outdoors": "outdoors or with extraction, clear ground",
    "load-bank": "a load bank connected",
    "wheels-chocked": "wheels chocked, drive out",
}

TOKENS: tuple[Token, ...] = tuple(Token(name, False, text) for name, text in _OFF.items()) + tuple(
    Token(name, True, text) for name, text in _ADDED.items()
)
