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
from firstpull.workshop.privacy import MARK, join
from firstpull.workshop.storage import schema

_RIGHT = "restore the last backup, then salvage what is newer from the damaged file"
events, private = schema.events, schema.private_words
WITH_WORDS = select(
    events.c.job, events.c.seq, events.c.act_id, events.c.based_on, events.c.kind, events.c.version,
    events.c.at_utc, events.c.by_hand, events.c.body, events.c.crc, private.c.words,
    private.c.crc.label("words_crc"),
).select_from(
    events.outerjoin(private, and_(private.c.job == events.c.job, private.c.seq == events.c.seq))
)  # fmt: skip


def sum_of(parts: Sequence[Any]) -> int:
    """The check sum over everything an event row holds."""
    return zlib.crc32("\x1f".join(str(part) for part in parts).encode("utf-8", "replace"))


def event_of(row: Any, *, raw: bool = False) -> Event:
    """The event of one row of `WITH_WORDS`.

    Raises:
        StorageError: when the row or its words are not what was once written.
    """
    whole = sum_of(row[:9]) == row.crc
    if row.words is not None:
        whole = whole and sum_of((row.job, row.seq, row.words)) == row.words_crc
    if not whole:
        raise StorageError("an event is not what was once written", f"job {row.job}, event {row.seq}", _RIGHT)
    body = join(json.loads(row.body), json.loads(row.words) if row.words is not None else {})
    event = Event(row.job, row.seq, row.act_id, row.based_on, row.kind, row.version, row.at_utc, row.by_hand, body)
    return event if raw else current(event)


def words_missing(row: Any) -> bool:
    """Whether the event had words that are not there: erased later, or lost."""
    return row.words is None and f'"{MARK}":' in row.body


def read_events(connection: Connection, job: str, after_seq: int = 0) -> tuple[Event, ...]:
    """The job's events after `after_seq`, in order. A damaged file never shortens a job without a word.

    Raises:
        StorageError: when an event or its words cannot be read, or one is missing.
    """
    found = WITH_WORDS.where(events.c.job == job, events.c.seq > after_seq).order_by(events.c.seq)
    rows = connection.execute(found).all()
    head = connection.execute(select(schema.jobs.c.last_seq).where(schema.jobs.c.job == job)).scalar()
    last = max(head or 0, rows[-1].seq if rows else 0)
    if [row.seq for row in rows] != list(range(after_seq + 1, last + 1)):
        raise StorageError(f"of {last - after_seq} events {len(rows)} can be read", f"job {job}", _RIGHT)
    lost = max((row.seq for row in rows if words_missing(row)), default=0)
    if lost > max((row.seq for row in rows if row.kind == "erased"), default=0):
        raise StorageError("the words of an event are gone", f"job {job}, event {lost}", _RIGHT)
    return tuple(event_of(row) for row in rows)


def read_acts(connection: Connection, acts: Iterable[str]) -> tuple[Event, ...]:
    """The stored events of these acts."""
    found = connection.execute(
        WITH_WORDS.where(events.c.act_id.in_(list(acts))).order_by(events.c.act_id, events.c.act_part)
    )
    return tuple(event_of(row) for row in found)
