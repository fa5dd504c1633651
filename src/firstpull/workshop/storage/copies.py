"""Backup and restore: one SQLite file that carries the whole record of either database.

A backup is written under a passing name, given the digest of its events, checked, and only then named. A
restore checks all that first, then replaces the record in one transaction in which the erased stay erased:
whoever reads meanwhile sees the old record, and a restore that is cut off leaves it.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import sqlite3
import time
from collections.abc import Iterable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, delete, insert, select, text
from sqlalchemy.dialects import sqlite

from firstpull.base.clock import now, stamp
from firstpull.base.errors import StorageError
from firstpull.workshop.port import Copy
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.door import Door
from firstpull.workshop.storage.forgotten import erased_beside
from firstpull.workshop.storage.index import rebuild_index
from firstpull.workshop.storage.migrations import NEWEST, migrate
from firstpull.workshop.storage.people import forget
from firstpull.workshop.storage.rows import in_pieces, put_many
from firstpull.workshop.storage.sqlite import sqlite_door

_RIGHT = "another backup; the record was not touched"


def write_backup(door: Door, path: Path) -> Copy:
    """Write the record to `path`.

    Raises:
        StorageError: when it cannot be written whole; an older backup of that name is then still there.
    """
    passing = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        _clear_torn(path)
        passing.unlink(missing_ok=True)
        if door.is_sqlite:
            _vacuum_into(door, passing)
        else:
            _copy_out(door, passing)
        made = _seal(passing)
        checked = read_backup(passing)
        if checked != made:
            raise StorageError("the backup differs from what was written", str(path), "check the disk")
        with open(passing, "rb") as file:
            os.fsync(file.fileno())
        os.replace(passing, path)
    except (sqlite3.Error, OSError) as error:
        raise StorageError(f"no backup was made [{error}]", str(path), "a folder with room and rights") from error
    finally:
        for rest in ("", "-wal", "-shm", "-journal"):
            passing.with_name(passing.name + rest).unlink(missing_ok=True)
    return Copy(str(path), made.jobs, made.events, made.people, made.digest)


def _clear_torn(path: Path) -> None:
    """Take away what backups that were cut off an hour ago or longer left behind."""
    for torn in path.parent.glob(f".{path.name}.*.part*"):
        if time.time() - torn.stat().st_mtime > 3600:
            torn.unlink(missing_ok=True)


def _vacuum_into(door: Door, passing: Path) -> None:
    raw = door.reader.raw_connection()
    try:
        raw.cursor().execute("VACUUM INTO ?", (str(passing),))
    finally:
        raw.close()


def _copy_out(door: Door, passing: Path) -> None:
    target = sqlite_door(passing)
    try:
        while target.write(migrate) < NEWEST:
            pass

        def copy(source: Connection) -> None:
            with target.writer.begin() as into:
                for table in schema.CARRIED:
                    for rows in in_pieces(_rows_of(source, table), 2000):
                        put_many(into, table, rows, replace=True)

        with door.reader.begin() as source:
            copy(source)
    finally:
        target.close()


def _rows_of(source: Connection, table: Table) -> Iterator[dict[str, Any]]:
    found = source.execution_options(yield_per=2000).execute(select(table).order_by(*table.primary_key))
    for row in found.mappings():
        yield dict(row)


def _seal(passing: Path) -> Copy:
    """Write the digest into the backup and leave one file to carry."""
    with closing(sqlite3.connect(passing)) as file:
        file.execute("PRAGMA journal_mode=DELETE")
        counted = _count(file, passing)
        file.execute("INSERT OR REPLACE INTO about (key, value) VALUES ('digest', ?)", (counted.digest,))
        file.commit()
    return counted


_SUMMED = (
    "SELECT job, seq, act_id, body, crc FROM events ORDER BY job, seq",
    "SELECT job, seq, words, crc FROM private_words ORDER BY job, seq",
    "SELECT person, fields FROM people ORDER BY person",
    "SELECT hash FROM blobs ORDER BY hash",
)


_COUNTED = ("SELECT count(*) FROM jobs", "SELECT count(*) FROM events", "SELECT count(*) FROM people")


def _count(file: sqlite3.Connection, path: Path) -> Copy:
    digest = hashlib.sha256()
    for query in _SUMMED:
        for row in file.execute(query):
            digest.update(repr(row).encode("utf-8"))
    counts = [file.execute(query).fetchone()[0] for query in _COUNTED]
    return Copy(str(path), counts[0], counts[1], counts[2], digest.hexdigest())


def read_backup(path: Path) -> Copy:
    """Check a backup and say what is in it.

    Raises:
        StorageError: when it is missing, damaged, cut short, or not a backup of this program.
    """
    if not path.is_file():
        raise StorageError("there is no such backup", str(path), _RIGHT)
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as file:
            found = file.execute("PRAGMA integrity_check").fetchone()[0]
            if found != "ok":
                raise StorageError(f"the backup is damaged [{found}]", str(path), _RIGHT)
            about = dict(file.execute("SELECT key, value FROM about"))
            if int(about.get("version", 0)) > NEWEST:
                raise StorageError("the backup is of a newer program", str(path), "restore it with that program")
            counted = _count(file, path)
    except sqlite3.Error as error:
        raise StorageError(f"the backup cannot be read [{error}]", str(path), _RIGHT) from error
    if about.get("digest") != counted.digest:
        raise StorageError("the backup is not what was once written", str(path), _RIGHT)
    return counted


def _every_row_of(table: Table) -> str:
    return str(select(table).compile(dialect=sqlite.dialect()))


def restore_backup(door: Door, path: Path, beside: Iterable[Path]) -> Copy:
    """Replace the record by the backup; `beside` are folders that may hold a list of the erased.

    Raises:
        StorageError: when the backup or a list of the erased cannot be read; the record is then as it was.
    """
    counted = read_backup(path)
    listed: dict[str, str] = {}
    for folder in (*beside, path.parent):
        listed.update(erased_beside(folder))

    def replace_all(into: Connection) -> int:
        erased = {row.person: row.at_utc for row in into.execute(select(schema.erasures))} | listed
        if not door.is_sqlite:
            into.execute(text("LOCK TABLE jobs IN EXCLUSIVE MODE"))  # writers wait; readers see the old record
        for table in (*schema.CARRIED, schema.job_words, schema.people_words):
            into.execute(delete(table))
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as file:
            for table in schema.CARRIED:
                names = [column.name for column in table.columns]
                rows = file.execute(_every_row_of(table))
                for piece in in_pieces(rows, 2000):
                    into.execute(insert(table), [dict(zip(names, row, strict=True)) for row in piece])
        gone = [{"person": person, "at_utc": at} for person, at in erased.items()]
        put_many(into, schema.erasures, gone, replace=False)
        rebuild_index(into)
        forget(into, erased, by="restore", at=stamp(now()))
        return len(erased)

    try:
        forgotten = door.write(replace_all)
    except sqlite3.Error as error:
        raise StorageError(f"the backup cannot be read [{error}]", str(path), _RIGHT) from error
    return Copy(str(path), counted.jobs, counted.events, counted.people, counted.digest, forgotten)
