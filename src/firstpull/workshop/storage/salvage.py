"""Get out of a damaged file whatever can still be read, row by row, into a sound record.

Rows are asked for in ranges; a range that fails is halved until the rows that are really gone stand alone. A row
that reads but is not what was once written is left out. What is here already is not stored twice.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, select

from firstpull.base.errors import FirstpullError, StorageError
from firstpull.workshop.events import Event, check
from firstpull.workshop.port import Salvaged
from firstpull.workshop.privacy import join
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.appending import offer
from firstpull.workshop.storage.people import put_person
from firstpull.workshop.storage.reading import sum_of
from firstpull.workshop.storage.rows import in_pieces

_EVENTS = (
    "SELECT rowid, job, seq, act_id, based_on, kind, version, at_utc, by_hand, body, crc, act_part"
    " FROM events WHERE rowid BETWEEN ? AND ?"
)
_WORDS = "SELECT rowid, job, seq, words, crc FROM private_words WHERE rowid BETWEEN ? AND ?"
_PEOPLE = "SELECT rowid, person, fields FROM people WHERE rowid BETWEEN ? AND ?"
_ENDS = {
    _EVENTS: "SELECT max(rowid) FROM events",
    _WORDS: "SELECT max(rowid) FROM private_words",
    _PEOPLE: "SELECT max(rowid) FROM people",
}
_SMALLEST_ROW = 20  # bytes; judgement: no row of these tables is shorter, so a file cannot hold more of them


class _Torn:
    """A damaged file, read in ranges; counts the rows that would not come out."""

    def __init__(self, file: sqlite3.Connection, size: int) -> None:
        self.file = file
        self.most = size // _SMALLEST_ROW
        self.lost = 0

    def rows(self, query: str) -> Iterator[tuple[Any, ...]]:
        """Every row that can be read."""
        try:
            last = int(self.file.execute(_ENDS[query]).fetchone()[0] or 0)
        except sqlite3.Error:
            last = self.most
        ranges = [(1, last)]
        while ranges:
            low, high = ranges.pop()
            try:
                found = self.file.execute(query, (low, high)).fetchall()
            except sqlite3.Error:
                if low == high:
                    self.lost += 1
                else:
                    middle = (low + high) // 2
                    ranges += [(middle + 1, high), (low, middle)]
                continue
            yield from found


def salvage(connection: Connection, damaged: Path) -> Salvaged:
    """Bring over people and events that the record does not have, in the caller's transaction.

    Raises:
        StorageError: when nothing at all can be read.
    """
    if not damaged.is_file():
        raise StorageError("there is no such file", str(damaged), "the damaged record")
    try:
        with closing(sqlite3.connect(f"{damaged.absolute().as_uri()}?mode=ro", uri=True)) as file:
            file.text_factory = lambda raw: raw.decode("utf-8", "replace")
            file.execute("SELECT count(*) FROM sqlite_master").fetchone()
            torn = _Torn(file, damaged.stat().st_size)
            people = _bring_people(connection, torn)
            words = {(row[1], row[2]): row[3] for row in torn.rows(_WORDS) if sum_of(row[1:4]) == row[4]}
            events = _bring_events(connection, torn, words)
    except sqlite3.Error as error:
        raise StorageError(f"nothing can be read [{error}]", str(damaged), "restore the last backup") from error
    return Salvaged(events, people, torn.lost)


def _bring_people(connection: Connection, torn: _Torn) -> int:
    known = set(connection.execute(select(schema.people.c.person)).scalars())
    known |= set(connection.execute(select(schema.erasures.c.person)).scalars())
    brought = 0
    for _, person, fields in torn.rows(_PEOPLE):
        try:
            if person not in known:
                put_person(connection, str(person), json.loads(fields))
                brought += 1
        except (ValueError, TypeError, FirstpullError):
            torn.lost += 1
    return brought


def _bring_events(connection: Connection, torn: _Torn, words: Mapping[tuple[str, int], str]) -> int:
    found: list[tuple[Event, int]] = []
    for row in torn.rows(_EVENTS):
        try:
            if sum_of(row[1:10]) != row[10]:
                raise StorageError("not what was written")
            body = join(json.loads(row[9]), json.loads(words.get((row[1], row[2]), "{}")))
            found.append((check(_event(row, body)), row[11]))
        except (ValueError, TypeError, FirstpullError):
            torn.lost += 1
    found.sort(key=lambda one: (one[0].job, one[0].seq, one[1]))
    before = _count(connection)
    for piece in in_pieces(_by_act(found), 200):
        offer(connection, [event for act in piece for event in act])
    return _count(connection) - before


def _event(row: tuple[Any, ...], body: Mapping[str, Any]) -> Event:
    _, job, seq, act_id, based_on, kind, version, at, by, *_ = row
    return Event(job, seq, act_id, based_on, kind, version, at, by, body)


def _by_act(found: list[tuple[Event, int]]) -> list[list[Event]]:
    """The events of one act together, in the order of the first of each."""
    acts: dict[str, list[Event]] = {}
    for event, _ in found:
        acts.setdefault(event.act_id, []).append(event)
    return list(acts.values())


def _count(connection: Connection) -> int:
    return sum(connection.execute(select(schema.jobs.c.last_seq)).scalars())
