"""Open a record by its path or its URL, and bring it up to the tables of today."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from firstpull.base.errors import StorageError
from firstpull.workshop.port import Store
from firstpull.workshop.storage.door import Door
from firstpull.workshop.storage.migrations import NEWEST, migrate, version_of
from firstpull.workshop.storage.postgres import postgres_door
from firstpull.workshop.storage.sqlite import sqlite_door
from firstpull.workshop.storage.store import SqlStore


def open_store(where: str | Path) -> Store:
    """The store in this file (a path or `sqlite:///path`) or on this server (`postgresql://...`).

    Raises:
        StorageError: when it cannot be opened, is not ours, or is of a newer program.
    """
    path = _path(where)
    if path is not None:
        _begin(path)
    door, home = (postgres_door(_url(where)), None) if path is None else (sqlite_door(path), path.parent)
    try:
        _bring_up_to_date(door)
    except StorageError as error:
        door.close()
        raise StorageError(error.what, error.where if error.where != "database" else door.where, error.right) from error
    return SqlStore(door, home)


def _url(where: str | Path) -> str:
    return str(where).replace("postgres://", "postgresql://", 1)


def _path(where: str | Path) -> Path | None:
    """The file of a record, or nothing when it is kept on a server.

    Raises:
        StorageError: when it is neither.
    """
    text = str(where)
    if text.startswith(("postgresql://", "postgresql+psycopg://", "postgres://")):
        return None
    if "://" in text and not text.startswith("sqlite:///"):
        raise StorageError("this kind of database is not known", text, "a file path or a postgresql:// address")
    return Path(text.removeprefix("sqlite:///")).absolute()


def _begin(path: Path) -> None:
    """Make a missing record under a passing name first: an empty file under its own name is then always damage.

    Raises:
        StorageError: when the file is empty, or cannot be made.
    """
    if path.is_file() and path.stat().st_size == 0:
        raise StorageError(
            "the file is empty", str(path), "restore the last backup, or delete the file to begin a new record"
        )
    if path.exists() or not path.parent.is_dir():
        return
    passing = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    door = sqlite_door(passing)
    try:
        passing.unlink(missing_ok=True)
        _bring_up_to_date(door)
        door.close()
        _name(passing, path)
    except StorageError as error:
        raise StorageError(error.what, str(path), error.right) from error
    except OSError as error:
        raise StorageError(
            f"the file cannot be opened [{error}]", str(path), "a folder with room and rights"
        ) from error
    finally:
        door.close()
        for rest in ("", "-wal", "-shm", "-journal"):
            passing.with_name(passing.name + rest).unlink(missing_ok=True)


def _name(passing: Path, path: Path) -> None:
    """Give the new record its name, unless somebody else was quicker: then theirs is the record."""
    try:
        os.link(passing, path)
    except FileExistsError:
        return
    except OSError:  # a disk that knows no links
        if not path.exists():
            os.rename(passing, path)


def _bring_up_to_date(door: Door) -> None:
    """Take the missing steps, each on its own; nothing is written when none is missing."""
    version = door.read(version_of)
    if version > NEWEST or version < NEWEST:
        while version != NEWEST:
            version = door.write(migrate)
