"""Two people at one machine: what may be written blindly, and what waits for a look.

A reading or a note is true whatever the other hand did. Taking something off, a repair, a yes and a release
rest on how the machine stood; when somebody else changed that since the actor last looked, the act waits for
a look. It is never lost and never refused: after the look it is sent again, based on what was seen.
"""

from __future__ import annotations

from collections.abc import Sequence

from firstpull.workshop.events import Event

WAITS_FOR_A_LOOK = frozenset({"access", "repair", "lent", "approval", "release", "handed-back"})
CHANGES_THE_MACHINE = frozenset(
    {
        "access",
        "repair",
        "lent",
        "approval",
        "release",
        "handed-back",
        "withdrawn",
        "estimate",
        "proof",
        "part",
    }
)


def to_look_at(event: Event, since: Sequence[Event]) -> tuple[Event, ...]:
    """What somebody else did since `based_on` that must be seen before this act counts; empty = go on."""
    if event.kind not in WAITS_FOR_A_LOOK:
        return ()
    return tuple(
        other
        for other in since
        if other.seq > event.based_on
        and other.by != event.by
        and other.act_id != event.act_id
        and other.kind in CHANGES_THE_MACHINE
    )
