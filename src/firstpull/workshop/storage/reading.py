"""Events from their rows.

Joined with the private words, checked against their sum, in their current version.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, and_, select

from firstpull.base.errors import StorageError
from firstpull.workshop.events import Event, current
from firstpull.workshop.privacy import join
from firstpull.workshop.storage import schema

events, private = schema.events, schema.private_words
WITH_WORDS = select(
    events.c.job, events.c.seq, events.c.act_id, events.c.based_on, events.c.kind, events.c.version,
    events.c.at_utc, events.c.by_hand, events.c.body, events.c.crc, private.c.words,
).select_from(
    events.outerjoin(private, and_(private.c.job == events.c.job, private.c.seq == events.c.seq))
)  # fmt: skip


def sum_of(parts: Sequence[Any]) -> int:
    """The check sum over everything an event row holds."""
    return zlib.crc32("\x1f".join(str(part) for part in parts).encode("utf-8", "replace"))


def event_of(row: Any, *, raw: bool = False) -> Event:
    """The event of one row of `WITH_WORDS`.

    Raises:
        StorageError: when the row is not what was once written.
    """
    if sum_of(row[:9]) != row.crc:
        raise StorageError(
            "an event is not what was once written",
            f"job {row.job}, event {row.seq}",
            "restore the last backup",
        )
    body = join(json.loads(row.body), json.loads(row.words) if row.words else {})
    event = Event(row.job, row.seq, row.act_id, row.based_on, row.kind, row.version, row.at_utc, row.by_hand, body)
    return event if raw else current(event)


def read_events(connection: Connection, job: str, after_seq: int = 0) -> tuple[Event, ...]:
    """The job's events after `after_seq`, in order."""
    found = connection.execute(WITH_WORDS.where(events.c.job == job, events.c.seq > after_seq).order_by(events.c.seq))
    return tuple(event_of(row) for row in found)


def read_acts(connection: Connection, acts: Iterable[str]) -> tuple[Event, ...]:
    """The stored events of these acts."""
    found = connection.execute(
        WITH_WORDS.where(events.c.act_id.in_(list(acts))).order_by(events.c.act_id, events.c.act_part)
    )
    return tuple(event_of(row) for row in found)
