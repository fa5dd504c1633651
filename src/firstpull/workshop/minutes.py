"""Minutes worked, from the clock events: each hand has its own clock, and waiting is not labour."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from firstpull.base.clock import moment
from firstpull.workshop.events import Event

FORGOTTEN_MINUTES = 240.0  # judgement: nobody works four hours on a mower without a pause


@dataclass(frozen=True, slots=True)
class Worked:
    """Hands-on and waiting minutes, who is at it since when, and spells that look like a forgotten pause."""

    hands_on: float = 0.0
    waiting: float = 0.0
    running: tuple[tuple[str, str], ...] = ()
    doubtful: tuple[str, ...] = ()


def _moment(text: str) -> datetime | None:
    try:
        return moment(text)
    except ValueError:
        return None


def _spell(start: str, end: str) -> float:
    """Minutes between two moments; a clock that was set back counts as no time at all."""
    first, last = _moment(start), _moment(end)
    if first is None or last is None or (first.tzinfo is None) != (last.tzinfo is None):
        return 0.0
    return max(0.0, (last - first).total_seconds() / 60.0)


def worked(events: Iterable[Event], until: str = "") -> Worked:
    """Add up the spells of the clock events that count.

    An open spell runs to `until`, or counts nothing yet.
    """
    running: dict[str, tuple[str, bool]] = {}
    hands_on = waiting = 0.0
    doubtful: list[str] = []

    def close(by: str, end: str, act_id: str) -> None:
        nonlocal hands_on, waiting
        start, idle = running.pop(by)
        spell = _spell(start, end)
        if idle:
            waiting += spell
            return
        hands_on += spell
        if spell > FORGOTTEN_MINUTES:
            doubtful.append(act_id)

    for event in events:
        if event.kind != "clock":
            continue
        if event.by in running:
            close(event.by, event.when, event.act_id)
        if event.body.get("state") == "started":
            running[event.by] = (event.when, bool(event.body.get("waiting", False)))
    still = tuple((by, start) for by, (start, _) in running.items())
    if until:
        for by in list(running):
            close(by, until, "")
    return Worked(hands_on, waiting, still, tuple(doubtful))
