"""From a job's record back to a live session: the same events give the same belief."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import FirstpullError
from firstpull.bench.case import read_step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from firstpull.workshop.events import Event, is_known
from firstpull.workshop.fold import JobRecord
from firstpull.workshop.withdrawn import standing

STEP_KINDS = ("told", "reading", "access", "repair")


@dataclass(frozen=True, eq=False)
class Live:
    """A session made from a record, and what of the record could not be used, in words."""

    session: Session
    notices: tuple[str, ...]


def conditions_of(record: JobRecord) -> Conditions:
    """The day of the job as it was recorded; what was not recorded is usual."""
    usual = Conditions()
    return Conditions(
        _figure(record.conditions.get("altitude_m"), usual.altitude_m),
        _figure(record.conditions.get("air_c"), usual.air_c),
    )


def _figure(held: object, usual: float) -> float:
    """A recorded number; what is none was not recorded."""
    fits = isinstance(held, int | float) and not isinstance(held, bool) and math.isfinite(held)
    return float(held) if fits else usual  # type: ignore[arg-type]  # a number, as was just asked


def replay(room: WorldRoom, record: JobRecord, prices: Prices, before: Scales | None = None) -> Live | None:
    """A session from everything that counts in a record; None when its machine class is not known.

    Events with ids that the handbook does not hold stay in the record, are named in a notice, and are left out of the
    belief. With the scales of an earlier state of the same job (`before`), what was weighed then is not weighed again.
    """
    if record.machine_class not in room.book.machines:
        return None
    worlds = room.worlds(record.machine_class, conditions_of(record))
    session = Session(worlds.book, _scales(worlds, before), prices)
    session.hear(record.complaint, _told_at_counter(record))
    notices: list[str] = []
    ordered = sorted((e for e in standing(record.events) if e.kind in STEP_KINDS), key=lambda e: (e.when, e.seq))
    for event in ordered:
        if not is_known(event):
            notices.append(f"Event {event.seq} was written by a newer program: kept and left out of the reckoning.")
            continue
        for step in _steps(event):
            try:
                session.take(read_step(step, room.book), f"event {event.seq}")
            except FirstpullError as error:
                notices.append(f"Event {event.seq} is kept and left out of the reckoning. {error}")
    return Live(session, tuple(notices))


def _scales(worlds: Worlds, before: Scales | None) -> Scales:
    """Scales for a job on these machines: those it had, when they weigh the same machines."""
    if before is not None and before.worlds.predicted is worlds.predicted:
        return before
    return Scales(worlds)


def _told_at_counter(record: JobRecord) -> tuple[str, ...]:
    opened = [e for e in record.events if e.kind == "opened"]
    found = [str(t) for e in opened for t in e.body.get("told", [])]
    return tuple(dict.fromkeys(found))


def _steps(event: Event) -> list[dict[str, Any]]:
    """An event as the steps of a case."""
    body = event.body
    match event.kind:
        case "access":
            return [{"access": body.get("item"), "state": body.get("state")}]
        case "repair":
            return [{"repair": body.get("repair"), "by": body.get("by") or "shop"}]
        case "told":
            answer = body.get("answer", "yes")
            return [{"told": fact, "answer": answer} for fact in body.get("told", [])]
        case "reading":
            return [_reading(body)]
    return []


def _reading(body: Mapping[str, Any]) -> dict[str, Any]:
    place = body.get("arrangement") or {}
    step: dict[str, Any] = {"check": body.get("check"), "reading": body.get("reading")}
    extra = {k: place[k] for k in ("drive", "thermal", "choke", "load") if place.get(k)}
    if extra:
        step["with"] = extra
    for key in ("while", "by", "instrument", "spread"):
        if body.get(key):
            step[key] = body[key]
    if body.get("times", 1) != 1:
        step["times"] = body["times"]
    if place.get("off") is not None:
        step["place"] = {"off": list(place["off"]), "added": list(place.get("added", []))}
    return step
