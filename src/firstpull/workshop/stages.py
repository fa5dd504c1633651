"""Where a job stands: the names of the stages, and the stage that an act implies when nobody says it."""

from __future__ import annotations

from firstpull.workshop.events import Event

STAGES = (
    "booked", "received", "waiting-for-facts", "finding", "estimate-sent", "approved", "declined",
    "parts-ordered", "parts-in", "on-bench", "proving", "ready", "called", "handed-back", "comeback",
    "unsafe-held", "notice-sent", "disposed",
)  # fmt: skip
CLOSED = frozenset({"handed-back", "disposed"})


def implied_stage(event: Event, now: str) -> str:
    """The stage after this act; an act that says nothing about the stage leaves it as it is."""
    body = event.body
    match event.kind:
        case "stage":
            return str(body.get("stage", now))
        case "opened":
            return "comeback" if body.get("comeback_of") else "received"
        case "reading" | "access" if now in ("booked", "received", "waiting-for-facts", "comeback"):
            return "finding"
        case "estimate":
            return "estimate-sent"
        case "approval":
            if body.get("to") == "find":
                return "finding" if body.get("yes") else "declined"
            if body.get("to") in ("mend", "scrap"):
                return "approved" if body.get("yes") else "declined"
        case "part" if body.get("state") == "ordered":
            return "parts-ordered"
        case "part" if body.get("state") == "arrived":
            return "parts-in"
        case "repair" if now in ("approved", "parts-in", "parts-ordered"):
            return "on-bench"
        case "proof" if now == "on-bench":
            return "proving"
        case "release":
            return "ready"
        case "handed-back":
            return "called" if body.get("keep_open") else "handed-back"
        case "comeback":
            return "comeback"
        case "abandoned":
            return {"notice": "notice-sent", "disposed": "disposed"}.get(str(body.get("step")), now)
    return now
