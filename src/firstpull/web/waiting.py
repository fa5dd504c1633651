"""What of a learner's acts waits for an instructor."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request

from firstpull.bench.find import note
from firstpull.web.asking import must_ask
from firstpull.web.forms import who
from firstpull.web.roles import Act
from firstpull.web.viewer import NotAllowedError, must, viewer_of

# What stands in a step, and the act that entering it is.
NEEDS = {"repair": Act.REPAIR, "check": Act.READ, "access": Act.READ, "move": Act.READ, "told": Act.TELL}


def may_enter(request: Request, job: str, step: Mapping[str, Any], act_id: str) -> None:
    """Go on only if whoever asks may enter all that a step says, and a learner does not have to ask first.

    What a learner did all the same is true and is written down as a note; it counts when an instructor has let it go
    and it is entered again.

    Raises:
        NotAllowedError: the role does not allow it, or it waits for an instructor.
    """
    needed = {act for key, act in NEEDS.items() if step.get(key)}
    must(request, *sorted(needed or {Act.READ}))
    hazard = must_ask(request.app.state.shop, viewer_of(request), job, step)
    if hazard:
        done = ", ".join(f"{key} {step[key]}" for key in ("check", "reading", "value", "repair") if step.get(key))
        note(request.app.state.shop, job, f"Before an instructor let it go, not counted: {done}"[:1000],
             act_id=f"{act_id[:100]}-before", based_on=0, by=who(request))
        what = f"{hazard} waits for an instructor: it is written down as a note and does not count yet"
        raise NotAllowedError(what, "", "ask for it on the sheet of the step")
