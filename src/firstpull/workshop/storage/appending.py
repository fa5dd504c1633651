"""Appending: all or nothing, each act once, each job counted without a gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from sqlalchemy import Connection, insert, select, update

from firstpull.workshop.events import Event, canonical
from firstpull.workshop.port import Look, Offer
from firstpull.workshop.privacy import split
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.index import refresh, touch
from firstpull.workshop.storage.reading import read_acts, read_events, sum_of
from firstpull.workshop.storage.rows import in_pieces, put_many

# Acts after which neither the line nor the words of a job can be other than before.
_SAME_LINE = frozenset({"advised", "value", "rebased"})


def offer(connection: Connection, events: Sequence[Event], look: Look | None = None) -> Offer:
    """Store checked events in the caller's transaction, unless the look finds something to see first."""
    known: dict[str, list[Event]] = {}
    for piece in in_pieces(dict.fromkeys(event.act_id for event in events)):
        for stored in read_acts(connection, piece):
            known.setdefault(stored.act_id, []).append(stored)
    fresh = [event for event in events if event.act_id not in known]
    heads = _lock(connection, fresh)
    if look is not None:
        changed = _changes(connection, fresh, look)
        if changed:
            return Offer(changed=changed)
    numbered = _number(fresh, heads)
    _insert(connection, numbered)
    _settle(connection, numbered, heads)
    added: dict[str, list[Event]] = {}
    for event in numbered:
        added.setdefault(event.act_id, []).append(event)
    return Offer(tuple(one for act in dict.fromkeys(e.act_id for e in events) for one in (known | added)[act]))


def _lock(connection: Connection, events: Sequence[Event]) -> dict[str, int]:
    """Hold the jobs until the commit, always in the same order, and return where each one stands."""
    names = sorted({event.job for event in events})
    blank = {"last_seq": 0, "person": "", "machine": "", "closed": 0, "opened_at": "", "line": "{}"}
    put_many(connection, schema.jobs, [{"job": name, **blank} for name in names], replace=False)
    heads: dict[str, int] = {}
    for piece in in_pieces(names):
        found = select(schema.jobs.c.job, schema.jobs.c.last_seq).where(schema.jobs.c.job.in_(piece))
        held = connection.execute(found.order_by(schema.jobs.c.job).with_for_update())
        heads.update((job, last_seq) for job, last_seq in held)
    return heads


def _changes(connection: Connection, events: Sequence[Event], look: Look) -> tuple[Event, ...]:
    found: dict[tuple[str, int], Event] = {}
    for event in events:
        since = read_events(connection, event.job, event.based_on)
        found.update(((other.job, other.seq), other) for other in look(event, since))
    return tuple(found[key] for key in sorted(found))


def _number(events: Sequence[Event], heads: dict[str, int]) -> list[Event]:
    counts = dict(heads)
    numbered = []
    for event in events:
        counts[event.job] += 1
        numbered.append(replace(event, seq=counts[event.job]))
    return numbered


def _insert(connection: Connection, events: Sequence[Event]) -> None:
    parts: dict[str, int] = {}
    rows, words = [], []
    for event in events:
        kept, apart = split(event)
        body = canonical(kept)
        whole = (
            event.job, event.seq, event.act_id, event.based_on, event.kind, event.version, event.at, event.by,
            body
        )  # fmt: skip
        part = parts.get(event.act_id, 0)
        parts[event.act_id] = part + 1
        rows.append(
            {
                "job": event.job, "seq": event.seq, "act_id": event.act_id, "act_part": part,
                "based_on": event.based_on, "kind": event.kind, "version": event.version,
                "at_utc": event.at, "by_hand": event.by, "body": body, "crc": sum_of(whole),
            }
        )  # fmt: skip
        if apart:
            said = canonical(apart)
            crc = sum_of((event.job, event.seq, said))
            words.append({"job": event.job, "seq": event.seq, "words": said, "crc": crc})
    if rows:
        connection.execute(insert(schema.events), rows)
    if words:
        connection.execute(insert(schema.private_words), words)


def _settle(connection: Connection, events: Sequence[Event], heads: dict[str, int]) -> None:
    """Move each job's count and bring its line and words up to date."""
    for job, group in groupby(sorted(events, key=lambda one: (one.job, one.seq)), key=lambda one: one.job):
        added = list(group)
        last = added[-1]
        row = update(schema.jobs).where(schema.jobs.c.job == job)
        connection.execute(row.values(last_seq=last.seq))
        if heads[job] and all(event.kind in _SAME_LINE for event in added):
            touch(connection, job, last.seq, last.at)
        elif heads[job]:
            refresh(connection, job, read_events(connection, job))
        else:
            refresh(connection, job, added, fresh=True)
