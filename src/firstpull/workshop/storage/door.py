"""Every transaction goes through here: one way to begin, to try again, and to say what went wrong."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import TypeVar

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from firstpull.base.errors import StorageError

Result = TypeVar("Result")

RETRY_SECONDS = 20.0  # judgement: a database server restarts in less, and nobody waits longer at a bench
_RACES = ("could not serialize", "deadlock detected", "duplicate key", "UNIQUE constraint failed")
_GONE = (
    "server closed",
    "connection",
    "terminating",
    "shutting down",
    "starting up",
    "recovery",
    "the connection is",
)

# What the driver says, what that means to a repairer, and what to do.
_MEANINGS = (
    (
        "full",
        "there is no room left on the disk",
        "free some space and send it again; nothing was half written",
    ),
    ("readonly", "the folder or the file may not be written", "give this user the right to write there"),
    ("read-only", "the folder or the file may not be written", "give this user the right to write there"),
    ("unable to open", "the file cannot be opened", "an existing folder in which this user may write"),
    (
        "malformed",
        "the file is damaged",
        "restore the last backup, then salvage what is newer from the damaged file",
    ),
    (
        "not a database",
        "the file is not a record of this program",
        "another file, or restore the last backup",
    ),
    ("decode", "the file is damaged", "restore the last backup, then salvage what is newer from the damaged file"),
    (
        "disk i/o",
        "the disk refused to write or read",
        "check the disk and its free space; then send it again",
    ),
    ("locked", "another program holds the file for too long", "close the other program, then send it again"),
)


class Door:
    """Runs functions in a transaction of their own.

    `write` for those that change something, `read` for others.
    """

    def __init__(self, writer: Engine, reader: Engine, where: str) -> None:
        self.writer = writer
        self.reader = reader
        self.where = where

    @property
    def is_sqlite(self) -> bool:
        """Whether the record is a file of its own."""
        return self.writer.dialect.name == "sqlite"

    def write(self, act: Callable[[Connection], Result]) -> Result:
        """Run `act` and commit; it may be run again, so it must be harmless twice.

        Raises:
            StorageError: when it cannot be stored; nothing of it is.
        """
        return self._run(self.writer.begin, act)

    def read(self, look: Callable[[Connection], Result]) -> Result:
        """Run `look` on one consistent state of the record.

        Raises:
            StorageError: when it cannot be read.
        """
        return self._run(self.reader.connect, look)

    def close(self) -> None:
        """Let go of every connection."""
        self.writer.dispose()
        self.reader.dispose()

    def _run(
        self, enter: Callable[[], AbstractContextManager[Connection]], act: Callable[[Connection], Result]
    ) -> Result:
        started = time.monotonic()
        wait = 0.02
        while True:
            try:
                with enter() as connection:
                    return act(connection)
            except (SQLAlchemyError, OSError) as error:
                if not self._again(error) or time.monotonic() - started > RETRY_SECONDS:
                    raise self.explain(error) from error
            time.sleep(wait)
            wait = min(1.0, wait * 2)

    def _again(self, error: Exception) -> bool:
        """Whether the same call may succeed a moment later.

        A race that was lost, or a server that restarts.
        """
        said = str(getattr(error, "orig", error))
        if isinstance(error, IntegrityError) or any(sign in said for sign in _RACES):
            return any(sign in said for sign in _RACES)
        if self.is_sqlite:
            return False
        broken = isinstance(error, DBAPIError) and error.connection_invalidated
        return broken or (isinstance(error, OperationalError) and any(sign in said for sign in _GONE))

    def explain(self, error: Exception) -> StorageError:
        """The driver's error in words for the bench."""
        said = str(getattr(error, "orig", error)).strip().splitlines()[0:1]
        first = said[0] if said else type(error).__name__
        if isinstance(error, PoolTimeout):
            return StorageError("too many pages want the record at once", self.where, "try again in a moment")
        for sign, meaning, right in _MEANINGS:
            if self.is_sqlite and sign in first.lower():
                return StorageError(f"{meaning} [{first}]", self.where, right)
        if not self.is_sqlite and isinstance(error, OperationalError):
            return StorageError(
                f"the database server does not answer [{first}]", self.where, "start it, then try again"
            )
        return StorageError(f"the record could not be reached [{first}]", self.where, "see the words in brackets")
