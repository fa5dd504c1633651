"""Kick-back: whether the burn beats the turning mass before top dead centre.

No parameter of its own. Faults that reach it: F018, F019 (key step advances or retards the spark), F020, F058/F059 (no
release, full charge), F064, F098 (loose or missing blade: the turning mass is gone), F096 (carbon, a little).
Nothing kicks that cannot fire: plug lead off or on a tester, plug out, stop circuit closed, no fuel.

Checks: a told fact or a real starting pull reads `kick`. Complaint: kicks back, rope snatched `kick`.
"""

from __future__ import annotations

from firstpull.engine.vocabulary.types import Observable

PARAMETERS = ()
OBSERVABLES: tuple[Observable, ...] = (
    Observable("kick_ratio", "1", "work of the burn before dead centre over the energy that carries the crank past it"),
    Observable("kick", "1", "chance that a firing pull kicks back through the rope"),
    Observable("bounce", "1", "chance that the crank bounces back off compression without firing"),
)
SIZES = ()
TOKENS = ()
