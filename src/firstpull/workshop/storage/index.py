"""The line and the search words of a job: always computable from its events, kept so that lists are quick."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, delete, insert, select, update

from firstpull.base.errors import StorageError
from firstpull.workshop.events import Event
from firstpull.workshop.fold import fold
from firstpull.workshop.line import JobLine, facts_words, line_of, private_words, words_in
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.reading import read_events
from firstpull.workshop.storage.rows import in_pieces, put_many


def refresh(connection: Connection, job: str, events: Sequence[Event], *, fresh: bool = False) -> JobLine:
    """Write the job's line and words anew from all its events. `fresh` says that it has no words yet."""
    record = fold(events, job)
    line = line_of(record)
    connection.execute(update(schema.jobs).where(schema.jobs.c.job == job).values(**_columns(line)))
    wanted = {(word, 0) for word in facts_words(record)} | {(word, 1) for word in private_words(record)}
    words = schema.job_words
    if not fresh:
        found = connection.execute(select(words.c.word, words.c.private).where(words.c.job == job))
        known = {(word, private) for word, private in found}
        for word, private in known - wanted:
            connection.execute(
                delete(words).where(words.c.job == job, words.c.word == word, words.c.private == private)
            )
        wanted -= known
    if wanted:
        rows = [{"word": word, "job": job, "private": private} for word, private in sorted(wanted)]
        connection.execute(insert(words), rows)
    return line


def touch(connection: Connection, job: str, last_seq: int, changed_at: str) -> None:
    """Note on the line that the job moved on, when nothing else on it can have changed."""
    known = connection.execute(select(schema.jobs.c.line).where(schema.jobs.c.job == job)).scalar_one()
    line = {**json.loads(known), "last_seq": last_seq, "changed_at": changed_at}
    connection.execute(update(schema.jobs).where(schema.jobs.c.job == job).values(line=json.dumps(line)))


def _columns(line: JobLine) -> dict[str, object]:
    return {
        "person": line.person, "machine": line.machine, "closed": int(line.closed),
        "opened_at": line.opened_at, "line": json.dumps(line.as_dict(), ensure_ascii=False),
    }  # fmt: skip


def index_person(connection: Connection, person: str, fields: object) -> None:
    """Write the search words of one person anew."""
    words = schema.people_words
    connection.execute(delete(words).where(words.c.person == person))
    rows = [{"word": word, "person": person} for word in sorted(words_in(fields))]
    put_many(connection, words, rows, replace=False)


def rebuild_index(connection: Connection, jobs: Iterable[str] | None = None) -> None:
    """Compute every line and every search word anew."""
    if jobs is None:
        connection.execute(delete(schema.job_words))
        connection.execute(delete(schema.people_words))
        jobs = connection.execute(select(schema.jobs.c.job)).scalars().all()
        for person, fields in connection.execute(select(schema.people.c.person, schema.people.c.fields)).all():
            index_person(connection, person, json.loads(fields))
    for piece in in_pieces(jobs):
        for job in piece:
            try:
                refresh(connection, job, read_events(connection, job))
            except StorageError:  # a damaged event is named when its job is opened; it must not stop the others
                continue
