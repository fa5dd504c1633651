"""People, and forgetting them: names, words and photos go for good, engine facts stay."""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, delete, select

from firstpull.base.errors import InputError
from firstpull.workshop.events import LARGEST_BODY, Event, canonical
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.appending import offer
from firstpull.workshop.storage.index import index_person
from firstpull.workshop.storage.rows import in_pieces, put


def new_person_id() -> str:
    """A random id that says nothing about anybody."""
    return "p-" + secrets.token_hex(8)


def put_person(connection: Connection, person: str, fields: Mapping[str, Any]) -> str:
    """Keep the fields; a person who was erased never comes back under the same id.

    Raises:
        InputError: when the id was erased, or the fields are too large or not JSON.
    """
    if connection.execute(select(schema.erasures.c.person).where(schema.erasures.c.person == person)).first():
        raise InputError(f"{person} was erased", "person", "take the person in as a new one")
    try:
        text = canonical(fields)
    except (TypeError, ValueError) as error:
        raise InputError(str(error), "person", "fields that JSON can hold") from error
    if len(text) > LARGEST_BODY:
        raise InputError("too much is written about this person", "person", f"at most {LARGEST_BODY} letters")
    put(connection, schema.people, {"person": person, "fields": text}, replace=True)
    index_person(connection, person, json.loads(text))
    return person


def get_person(connection: Connection, person: str) -> Mapping[str, Any] | None:
    """The fields, or nothing."""
    found = connection.execute(select(schema.people.c.fields).where(schema.people.c.person == person)).scalar()
    return None if found is None else dict(json.loads(found))


def erase(connection: Connection, person: str, by: str, at: str) -> tuple[str, ...]:
    """Forget a person and say so on each of their jobs; once more does nothing more."""
    put(connection, schema.erasures, {"person": person, "at_utc": at}, replace=False)
    return forget(connection, [person], by, at)


def forget(connection: Connection, persons: Iterable[str], by: str, at: str) -> tuple[str, ...]:
    """Delete what is kept of these people, wherever it is, and say so on their jobs, which are returned."""
    theirs: dict[str, str] = {}
    for piece in in_pieces(persons):
        found = select(schema.jobs.c.job, schema.jobs.c.person).where(schema.jobs.c.person.in_(piece))
        theirs.update((job, person) for job, person in connection.execute(found.order_by(schema.jobs.c.job)))
        for table in (schema.people, schema.people_words, schema.blob_owners):
            connection.execute(delete(table).where(table.c.person.in_(piece)))
    owned = select(schema.blob_owners.c.hash)
    connection.execute(delete(schema.blobs).where(schema.blobs.c.hash.not_in(owned)))
    notes = [_note(connection, job, person, by, at) for job, person in theirs.items()]
    for jobs in in_pieces(theirs):
        connection.execute(delete(schema.private_words).where(schema.private_words.c.job.in_(jobs)))
    offer(connection, [note for note in notes if note is not None])
    return tuple(theirs)


def _note(connection: Connection, job: str, person: str, by: str, at: str) -> Event | None:
    """The event that says the words of this job were erased; nothing when that is said and no new words came."""
    said = select(schema.events.c.seq).where(schema.events.c.job == job, schema.events.c.kind == "erased")
    words = select(schema.private_words.c.seq).where(schema.private_words.c.job == job)
    if connection.execute(said).first() and not connection.execute(words).first():
        return None
    head = connection.execute(select(schema.jobs.c.last_seq).where(schema.jobs.c.job == job)).scalar_one()
    return Event(job, 0, f"erased-{job}-{head}", 0, "erased", 1, at, by, {"person": person})
