"""Undo: which acts count no longer. An undo can itself be undone; nothing is ever removed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from firstpull.workshop.events import Event, listed


def withdrawn_acts(events: Iterable[Event]) -> frozenset[str]:
    """The act ids that do not count, whatever order the undo and its target arrived in."""
    undone: set[str] = set()
    for event in sorted(events, key=lambda one: one.seq, reverse=True):
        if event.kind == "withdrawn" and event.act_id not in undone:
            undone.update(listed(event.body.get("acts")))
    return frozenset(undone)


def standing(events: Sequence[Event]) -> list[Event]:
    """The events that count, in the order of the record."""
    undone = withdrawn_acts(events)
    return sorted((one for one in events if one.act_id not in undone), key=lambda one: one.seq)
