"""Mixture that the engine gets: starting, idle and load; flooding, plug, smoke and what the choke does to it.

Strength is given as phi, the fuel-air ratio over the chemically right one: 1 right, above rich, below lean.

Which fault moves what: F021 choke_misused, flooded_ml · F042 flooded_ml; everything else comes from the
fuel, carburettor and air intake parameters (F022-F047 by start_mixture_phi, idle_mixture_phi,
run_mixture_phi).

Which check reads what: K06 plug_wetness, plug_colour · K21 prime_mixture_suits (through fires_on_prime of
starting) · K33 choke_response · K66 black_smoke · complaints: start_mixture_phi (hard start),
dies_on_choke_open, dies_on_load, spit_back, black_smoke, bogs, idle_keeps, fuel_smell_outside.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token

_S = "mixture"
_GUESS = "judgement"

PARAMETERS: tuple[Parameter, ...] = (
    Parameter(
        "flooded_ml",
        "mL",
        0.0,
        30.0,
        Spread("fixed", 0.0),
        _S,
        "liquid fuel lying in intake and cylinder before we try",
        _GUESS,
    ),
    Parameter(
        "choke_misused",
        "1",
        0.0,
        1.0,
        Spread("fixed", 0.0),
        _S,
        "the user starts it without choke cold, or leaves the choke on warm, 0 rightly used to 1 always wrong",
        _GUESS,
    ),
    Parameter(
        "mixture_trim",
        "1",
        0.6,
        1.6,
        Spread("normal", 1.0, 0.03, low=0.92, high=1.08),
        _S,
        "scatter of mixture strength between sound machines of one class",
        _GUESS,
    ),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("start_mixture_phi", "1", "strength of the vapour mixture in the cylinder at the start, first pulls"),
    Observable("start_liquid_phi", "1", "liquid fuel that comes with it and does not evaporate, in the same measure"),
    Observable("run_mixture_phi", "1", "mixture strength on the main circuit at working load"),
    Observable("idle_mixture_phi", "1", "mixture strength on the idle circuit"),
    Observable(
        "plug_wetness",
        "1",
        "fuel on the plug after four choked pulls that did not start it, 0 dry to 1 dripping",
    ),
    Observable("plug_colour", "1", "plug nose after it last ran: 0 white and blistered, 0.5 tan, 1 black and sooty"),
    Observable("prime_mixture_suits", "1", "how well the mixture suits firing on a few drops of fresh fuel, 0 to 1"),
    Observable(
        "choke_response",
        "1",
        "change of steadiness and pull on part choke: 1 much better, 0 none, -1 much worse",
    ),
    Observable("black_smoke", "1", "chance that black smoke is plainly seen", running=True),
    Observable(
        "spit_back",
        "1",
        "chance that it pops back through the carburettor when opened or pulled",
    ),
    Observable("bogs", "1", "how much it hesitates or dies when the throttle is opened, 0 not to 1 dies"),
    Observable("dies_on_load", "1", "chance that it stalls or sags badly when the load comes on"),
    Observable("dies_on_choke_open", "1", "chance that it dies when the choke is opened"),
    Observable("idle_keeps", "1", "chance that it keeps idling for a minute"),
    Observable("mixture_torque_share", "1", "torque that the mixture strength leaves, over the best mixture"),
    Observable("mixture_burns", "1", "share of cycles that the running mixture lets burn properly"),
    Observable("fuel_smell_outside", "1", "how strongly it smells of fuel standing still, 0 to 1"),
    Observable(
        "power_share",
        "1",
        "power at the shaft, lasting fuel supply included, over that of a sound machine at sea level",
        running=True,
    ),
)

SIZES: tuple[Size, ...] = (
    Size("design_phi", "1", "mixture strength of a sound machine at load on the fuel it was set for", 1.12),
    Size("design_idle_phi", "1", "mixture strength of a sound machine at idle", 1.15),
)

TOKENS: tuple[Token, ...] = ()
