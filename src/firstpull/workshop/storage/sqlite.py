"""One file on one machine. Writers queue up (BEGIN IMMEDIATE) so that no update is lost without an error."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

from firstpull.base.errors import StorageError
from firstpull.workshop.storage.door import Door

BUSY_MS = 10_000


def sqlite_door(path: Path) -> Door:
    """The door to the record in this file; the file is made when it is missing.

    Raises:
        StorageError: when the folder does not exist.
    """
    if not path.parent.is_dir():
        raise StorageError(f"there is no folder {path.parent}", str(path), "an existing folder")
    return Door(_engine(path, "BEGIN IMMEDIATE"), _engine(path, "BEGIN"), str(path))


def _engine(path: Path, begin: str) -> Engine:
    # isolation_level None: the driver starts no transaction of its own, the hook below does.
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        connect_args={"isolation_level": None, "timeout": BUSY_MS / 1000},
        pool_size=8,
    )

    @event.listens_for(engine, "connect")
    def _settle(connection: sqlite3.Connection, _record: Any) -> None:
        # FULL: an acknowledged act survives the loss of power. secure_delete: what is erased is overwritten.
        for pragma in (
            f"busy_timeout={BUSY_MS}", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON",
            "secure_delete=ON", "cache_size=-65536",
        ):  # fmt: skip
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine
