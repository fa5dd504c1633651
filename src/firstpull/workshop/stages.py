"""Where a job stands: the names of the stages, and the stage that an act implies when nobody says it."""

from __future__ import annotations

from firstpull.workshop.events import Event

STAGES = (
    "booked", "received", "waiting-for-facts", "finding", "estimate-sent", "approved", "declined",
    "parts-ordered", "parts-in", "on-bench", "proving", "ready", "called", "handed-back", "comeback",
    "unsafe-held", "notice-sent", "disposed",
)  # fmt: skip
CLOSED = frozenset({"handed-back", "disposed"})


_ALWAYS = {"release": "ready", "comeback": "comeback", "estimate": "estimate-sent"}
_FROM = {
    "reading": ({"booked", "received", "waiting-for-facts", "comeback"}, "finding"),
    "access": ({"booked", "received", "waiting-for-facts", "comeback"}, "finding"),
    "repair": ({"approved", "parts-in", "parts-ordered"}, "on-bench"),
    "proof": ({"on-bench"}, "proving"),
}
_BY_WORD = {
    ("part", "state", "ordered"): "parts-ordered",
    ("part", "state", "arrived"): "parts-in",
    ("abandoned", "step", "notice"): "notice-sent",
    ("abandoned", "step", "disposed"): "disposed",
}


def implied_stage(event: Event, now: str) -> str:
    """The stage after this act; an act that says nothing about the stage leaves it as it is."""
    body = event.body
    if event.kind in _ALWAYS:
        return _ALWAYS[event.kind]
    if event.kind in _FROM:
        before, after = _FROM[event.kind]
        return after if now in before else now
    match event.kind:
        case "stage":
            return str(body.get("stage", now))
        case "opened":
            return "comeback" if body.get("comeback_of") else "received"
        case "approval":
            return _after_approval(str(body.get("to")), bool(body.get("yes")), now)
        case "handed-back":
            return "called" if body.get("keep_open") else "handed-back"
    for (kind, field, word), after in _BY_WORD.items():
        if event.kind == kind and body.get(field) == word:
            return after
    return now


def _after_approval(to: str, yes: bool, now: str) -> str:
    if to == "find":
        return "finding" if yes else "declined"
    if to in ("mend", "scrap"):
        return "approved" if yes else "declined"
    return now
