"""Open a record by its path or its URL, and bring it up to the tables of today."""

from __future__ import annotations

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
    door, home = _door(where)
    try:
        _bring_up_to_date(door)
    except StorageError as error:
        door.close()
        raise StorageError(error.what, error.where if error.where != "database" else door.where, error.right) from error
    return SqlStore(door, home)


def _door(where: str | Path) -> tuple[Door, Path | None]:
    text = str(where)
    if text.startswith(("postgresql://", "postgresql+psycopg://", "postgres://")):
        return postgres_door(text.replace("postgres://", "postgresql://", 1)), None
    if "://" in text and not text.startswith("sqlite:///"):
        raise StorageError("this kind of database is not known", text, "a file path or a postgresql:// address")
    path = Path(text.removeprefix("sqlite:///")).absolute()
    return sqlite_door(path), path.parent


def _bring_up_to_date(door: Door) -> None:
    """Take the missing steps, each on its own; nothing is written when none is missing."""
    version = door.read(version_of)
    if version > NEWEST or version < NEWEST:
        while version != NEWEST:
            version = door.write(migrate)
