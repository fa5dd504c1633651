"""Numbered steps from an empty file to the tables of today, each in one transaction with its number.

A step that is cut off leaves the version before it. A file of a newer program is refused and not touched.
Steps are never edited once released; a change is a new step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sqlalchemy import Connection, inspect, text

from firstpull.base.errors import StorageError
from firstpull.workshop.storage.index import rebuild_index


@dataclass(frozen=True)
class Migration:
    """One step: its number, what it is for, its statements and what must be computed afterwards."""

    number: int
    purpose: str
    statements: tuple[str, ...]
    after: Callable[[Connection], None] | None = None


_RECORD = (
    "CREATE TABLE jobs (job TEXT NOT NULL PRIMARY KEY, last_seq INTEGER NOT NULL, person TEXT NOT NULL,"
    " machine TEXT NOT NULL, closed INTEGER NOT NULL, opened_at TEXT NOT NULL, line TEXT NOT NULL)",
    "CREATE INDEX jobs_newest ON jobs (opened_at, job)",
    "CREATE INDEX jobs_open ON jobs (closed, opened_at)",
    "CREATE INDEX jobs_person ON jobs (person)",
    "CREATE INDEX jobs_machine ON jobs (machine)",
    "CREATE TABLE events (job TEXT NOT NULL, seq INTEGER NOT NULL, act_id TEXT NOT NULL,"
    " act_part INTEGER NOT NULL, based_on INTEGER NOT NULL, kind TEXT NOT NULL, version INTEGER NOT NULL,"
    " at_utc TEXT NOT NULL, by_hand TEXT NOT NULL, body TEXT NOT NULL, crc BIGINT NOT NULL,"
    " PRIMARY KEY (job, seq), CONSTRAINT events_act UNIQUE (act_id, act_part))",
    "CREATE TABLE private_words (job TEXT NOT NULL, seq INTEGER NOT NULL, words TEXT NOT NULL, crc BIGINT NOT NULL,"
    " PRIMARY KEY (job, seq))",
    "CREATE TABLE people (person TEXT NOT NULL PRIMARY KEY, fields TEXT NOT NULL)",
    "CREATE TABLE erasures (person TEXT NOT NULL PRIMARY KEY, at_utc TEXT NOT NULL)",
    "CREATE TABLE blobs (hash TEXT NOT NULL PRIMARY KEY, type TEXT NOT NULL, data {bytes} NOT NULL)",
    "CREATE TABLE blob_owners (hash TEXT NOT NULL, person TEXT NOT NULL, PRIMARY KEY (hash, person))",
    "CREATE INDEX blob_owners_person ON blob_owners (person)",
    "CREATE TABLE settings (key TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL)",
    "CREATE TABLE stamps (hash TEXT NOT NULL PRIMARY KEY, kind TEXT NOT NULL, data {bytes} NOT NULL)",
)

_SEARCH = (
    "CREATE TABLE job_words (word TEXT{by_bytes} NOT NULL, job TEXT NOT NULL, private INTEGER NOT NULL,"
    " PRIMARY KEY (word, job, private)){without_rowid}",
    "CREATE INDEX job_words_job ON job_words (job)",
    "CREATE TABLE people_words (word TEXT{by_bytes} NOT NULL, person TEXT NOT NULL,"
    " PRIMARY KEY (word, person)){without_rowid}",
    "CREATE INDEX people_words_person ON people_words (person)",
)

MIGRATIONS = (
    Migration(1, "the record", _RECORD),
    Migration(2, "finding a job by its words", _SEARCH, rebuild_index),
)
NEWEST = MIGRATIONS[-1].number
ONE_AT_A_TIME = 0x66697270  # the number of our lock on a server, any that is always the same

_SPELLING = {
    "sqlite": {"bytes": "BLOB", "by_bytes": "", "without_rowid": " WITHOUT ROWID"},
    "postgresql": {"bytes": "BYTEA", "by_bytes": ' COLLATE "C"', "without_rowid": ""},
}


def version_of(connection: Connection) -> int:
    """The number of the last step that this database has taken; 0 for an empty one.

    Raises:
        StorageError: when the tables in it are not ours.
    """
    tables = set(inspect(connection).get_table_names())
    if "about" not in tables:
        if tables & {"events", "jobs"}:
            raise StorageError("the tables in it are not this program's", "database", "an empty database or our own")
        return 0
    found = connection.execute(text("SELECT value FROM about WHERE key = 'version'")).scalar()
    return int(found or 0)


def migrate(connection: Connection, up_to: int = NEWEST) -> int:
    """Take one missing step inside the caller's transaction; returns the version reached.

    Raises:
        StorageError: when the database is of a newer program.
    """
    if connection.dialect.name == "postgresql":  # several programs may begin one record: one after another until commit
        connection.execute(text("SELECT pg_advisory_xact_lock(:number)"), {"number": ONE_AT_A_TIME})
    version = version_of(connection)
    if version > NEWEST:
        raise StorageError(
            f"the record is of version {version}, this program knows {NEWEST}",
            "database",
            "open it with the newer program; nothing was changed",
        )
    if version >= up_to:
        return version
    step = MIGRATIONS[version]
    if version == 0:
        connection.execute(text("CREATE TABLE about (key TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL)"))
        connection.execute(text("INSERT INTO about (key, value) VALUES ('version', '0')"))
    for statement in step.statements:
        connection.execute(text(statement.format(**_SPELLING[connection.dialect.name])))
    if step.after is not None:
        step.after(connection)
    connection.execute(text("UPDATE about SET value = :number WHERE key = 'version'"), {"number": str(step.number)})
    return step.number
