"""What must not be done with the machine as it stands, and what would clear it.

Rules speak in tokens of the engine vocabulary, never in handbook ids. Common practice, no source, unless said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Tokens = frozenset[str]
Motion = Literal["still", "spin", "run"]

FUEL_OPEN = frozenset({"fuel-hose", "bowl", "carburettor"})
# Nothing turns under power with one of these off or on.
NEVER_RUN_WITHOUT = frozenset(
    {"plug", "plug-lead", "shroud", "stop-lead", "fuel-hose", "bowl", "carburettor", "muffler", "rocker-cover",
     "flywheel-nut", "flywheel", "head", "crankcase", "oil", "governor-spring", "low-oil-lead", "interlocks",
     "end-cover", "guard", "starter", "torque", "belt"}
)
NEVER_RUN_WITH = frozenset(
    {"tester-on-lead", "hole-covered", "drill-on-nut", "blade-blocked", "crank-held", "oil-in-cylinder", "jumper",
     "bridged-switch", "ports-blocked"}
)
NEVER_SPIN_WITHOUT = frozenset({"flywheel", "head", "crankcase", "torque", "oil"})
NEVER_SPIN_WITH = frozenset({"crank-held", "blade-blocked", "ports-blocked"})


@dataclass(frozen=True, slots=True)
class Deed:
    """What is about to be done: whether the engine stands, is spun or runs; by what; and near what danger."""

    motion: Motion = "still"
    drive: str = "none"
    hazard: str = "none"
    sparks: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it is allowed; if not, why, and the tokens (with their position) that would clear it."""

    allowed: bool
    why: str = ""
    clear_by: tuple[str, ...] = ()


ALLOWED = Verdict(True)


def cannot_fire(tokens: Tokens) -> bool:
    """Whether the engine cannot fire whatever the stop circuit does.

    An in-line tester, a shut tap (the bowl feeds it for minutes) and the choke do not count. With an in-line tester on
    it the lead is on the plug through that tester, wherever it was recorded before.
    """
    through = "in-line-tester" in tokens
    on_tester = "tester-on-lead" in tokens and "plug" not in tokens and not through
    hole_closed = "plug" in tokens and "hole-covered" in tokens and not tokens & FUEL_OPEN
    earthed = _lead_is_earthed(tokens) and "tester-on-lead" not in tokens
    return on_tester or hole_closed or "clip-switch" in tokens or (earthed and "plug" not in tokens) or (
        earthed and not tokens & FUEL_OPEN
    )


def _lead_is_earthed(tokens: Tokens) -> bool:
    """Whether the plug lead is off the plug and earthed, not led back to it through an in-line tester."""
    return "plug-lead" in tokens and "in-line-tester" not in tokens


def stop_is_lost(tokens: Tokens) -> bool:
    """Whether the engine's own control could not stop it."""
    return bool(tokens & {"stop-lead", "jumper", "bridged-switch"})


def red(tokens: Tokens) -> bool:
    """The red state: it could fire, and nothing would stop it."""
    return stop_is_lost(tokens) and not cannot_fire(tokens)


def judge(tokens: Tokens, deed: Deed, traits: Mapping[str, float | str]) -> Verdict:
    """Whether a deed may be proposed on a machine that stands so."""
    if deed.motion == "run":
        return _run(tokens)
    if deed.motion == "spin":
        return _spin(tokens, deed, traits)
    if deed.hazard == "blade" and not (_lead_is_earthed(tokens) or "plug" in tokens):
        return Verdict(False, "Hands near the blade while a flick of it could fire the engine.", ("plug-lead off",))
    return ALLOWED


def _run(tokens: Tokens) -> Verdict:
    if stop_is_lost(tokens):
        return Verdict(False, "An engine nobody can stop must not be started.",
                       _positions(tokens & {"stop-lead", "jumper", "bridged-switch"}))
    off = tokens & NEVER_RUN_WITHOUT
    if off:
        return Verdict(False, "Not while something it needs is off or open.", _positions(off))
    on = tokens & NEVER_RUN_WITH
    if on:
        return Verdict(False, "Not while something of ours is still on it.", _positions(on))
    return ALLOWED


def _spin(tokens: Tokens, deed: Deed, traits: Mapping[str, float | str]) -> Verdict:
    if stop_is_lost(tokens) and not cannot_fire(tokens):
        return Verdict(False, "With its stop lead off this would start an engine nobody can stop.",
                       ("tester-on-lead on with the plug in", "plug off and hole-covered on", "clip-switch on"))
    stuck = (tokens & NEVER_SPIN_WITHOUT) | (tokens & NEVER_SPIN_WITH)
    if stuck:
        return Verdict(False, "It must not be turned as it stands.", _positions(stuck))
    sparking = "plug" in tokens and ("tester-on-lead" in tokens or "plug-lead" not in tokens)
    if sparking and "clip-switch" not in tokens:
        if "hole-covered" not in tokens:
            return Verdict(False, "A spark beside an open plug hole lights what comes out of it.", ("hole-covered on",))
        if tokens & FUEL_OPEN:
            return Verdict(False, "A spark beside open fuel.", _positions(tokens & FUEL_OPEN))
    if deed.sparks and tokens & FUEL_OPEN:
        return Verdict(False, "A spark beside open fuel.", _positions(tokens & FUEL_OPEN))
    if deed.drive == "drill" and "plug" not in tokens:
        return Verdict(False, "The drill would fight compression and wrench the wrist.", ("plug off",))
    if deed.drive == "drill" and traits.get("driven_load") == "blade" and not tokens & {"blade-clear", "blade"}:
        return Verdict(False, "The blade turns with the drill.", ("blade-clear on", "blade off"))
    if deed.drive in ("rope", "lazy-rope") and "shroud" in tokens and traits.get("rope_in_cover") == "yes":
        return Verdict(False, "The rope came off with the cover.", ("shroud on",))
    if not cannot_fire(tokens) and "plug" not in tokens:
        return _run(tokens)
    return ALLOWED


def _positions(tokens: Tokens) -> tuple[str, ...]:
    """How each token would have to stand: what is off goes on, what is added comes off."""
    own = NEVER_RUN_WITHOUT | NEVER_SPIN_WITHOUT
    return tuple(f"{token} {'on' if token in own else 'off'}" for token in sorted(tokens))


def must_rest(deed: Deed) -> Tokens:
    """Tokens that must be at rest before this deed, whatever else it needs."""
    if deed.motion == "run":
        return NEVER_RUN_WITHOUT | NEVER_RUN_WITH
    if deed.motion == "spin":
        rest = NEVER_SPIN_WITHOUT | NEVER_SPIN_WITH
        return rest | FUEL_OPEN if deed.sparks else rest
    return frozenset()
