"""Lists and search over the lines of the jobs."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, exists, or_, select

from firstpull.workshop.line import JobLine, words_in
from firstpull.workshop.storage import schema

jobs, job_words, people_words = schema.jobs, schema.job_words, schema.people_words
# Above so many candidates a word is common: then walking the newest jobs is quicker than collecting.
# Judgement.
COMMON = 2000


def list_jobs(
    connection: Connection, open_only: bool, machine: str, person: str, limit: int | None
) -> tuple[JobLine, ...]:
    """The lines of the jobs that fit, newest first."""
    query = select(jobs.c.line)
    if open_only:
        query = query.where(jobs.c.closed == 0)
    if machine:
        query = query.where(jobs.c.machine == machine)
    if person:
        query = query.where(jobs.c.person == person)
    return _lines(connection, _newest(query, limit))


def search_jobs(connection: Connection, text: str, limit: int) -> tuple[JobLine, ...]:
    """The jobs in which each word of the text begins a word of the job or its customer, newest first."""
    words = sorted(words_in(text), key=len, reverse=True)
    if not words:
        return ()
    query = select(jobs.c.line)
    common = []
    for word in words:
        rare = _rare_jobs(connection, word)
        if rare is None:
            common.append(word)
        else:
            query = query.where(jobs.c.job.in_(rare))
    if len(common) < len(words):
        return _lines(connection, _newest(query.where(*(_has_word(word) for word in common)), limit))
    recent = query.where(jobs.c.opened_at >= _since(connection), *(_has_word(word) for word in common))
    found = _lines(connection, _newest(recent, limit))
    if len(found) == limit:
        return found
    return _lines(connection, _newest(query.where(*(_among_all(word) for word in common)), limit))


def _since(connection: Connection) -> str:
    """When the last few thousand jobs began."""
    newest = select(jobs.c.opened_at).order_by(jobs.c.opened_at.desc()).offset(COMMON).limit(1)
    return connection.execute(newest).scalar() or ""


def find_people(connection: Connection, text: str, limit: int) -> tuple[tuple[str, Any], ...]:
    """The people whose fields hold words that begin so."""
    words = words_in(text)
    if not words:
        return ()
    query = select(schema.people.c.person, schema.people.c.fields)
    for word in words:
        begins = select(people_words.c.person).where(_begins(people_words.c.word, word))
        query = query.where(schema.people.c.person.in_(begins))
    found = connection.execute(query.order_by(schema.people.c.person).limit(limit))
    return tuple((person, json.loads(fields)) for person, fields in found)


def _begins(column: ColumnElement[str], word: str) -> ColumnElement[bool]:
    """Words from this one up to the last that starts with it; both databases compare bytes here."""
    return and_(column >= word, column < word + "\U0010ffff")


def _rare_jobs(connection: Connection, word: str) -> list[str] | None:
    """The jobs with such a word, or nothing when there are too many to collect."""
    found = select(job_words.c.job).where(_begins(job_words.c.word, word)).limit(COMMON + 1)
    rare = set(connection.execute(found).scalars())
    people = select(people_words.c.person).where(_begins(people_words.c.word, word)).limit(COMMON + 1)
    persons = set(connection.execute(people).scalars())
    if len(rare) > COMMON or len(persons) > COMMON:
        return None
    if persons:
        theirs = select(jobs.c.job).where(jobs.c.person.in_(persons)).limit(COMMON + 1)
        rare.update(connection.execute(theirs).scalars())
    return sorted(rare) if len(rare) <= COMMON else None


def _has_word(word: str) -> ColumnElement[bool]:
    """Whether a job, met on the way from the newest, has such a word."""
    in_job = exists().where(job_words.c.job == jobs.c.job, _begins(job_words.c.word, word))
    in_person = exists().where(people_words.c.person == jobs.c.person, _begins(people_words.c.word, word))
    return or_(in_job, in_person)


def _among_all(word: str) -> ColumnElement[bool]:
    """The same for all jobs at once: quicker than walking when nearly every job must be looked at."""
    in_job = select(job_words.c.job).where(_begins(job_words.c.word, word))
    in_person = select(people_words.c.person).where(_begins(people_words.c.word, word))
    return or_(jobs.c.job.in_(in_job), jobs.c.person.in_(in_person))


def _newest(query: Select[str], limit: int | None) -> Select[str]:
    query = query.order_by(jobs.c.opened_at.desc(), jobs.c.job.desc())
    return query if limit is None else query.limit(limit)


def _lines(connection: Connection, query: Select[str]) -> tuple[JobLine, ...]:
    return tuple(JobLine.of_dict(json.loads(line)) for line in connection.execute(query).scalars())
