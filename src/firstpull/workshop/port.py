"""The one port behind which the record is kept. Pages, reasoning and money know this and nothing of SQL."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from firstpull.workshop.events import Event
from firstpull.workshop.line import JobLine


@dataclass(frozen=True, slots=True)
class Offer:
    """What became of an act that a look guards.

    The stored events, or what the other hand changed meanwhile.
    """

    stored: tuple[Event, ...] = ()
    changed: tuple[Event, ...] = ()

    @property
    def waits(self) -> bool:
        """Nothing was stored: somebody must look at `changed` first."""
        return bool(self.changed)


@dataclass(frozen=True, slots=True)
class Blob:
    """A photo or recording, known by the SHA-256 of its bytes."""

    hash: str
    type: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Copy:
    """A backup or a restore: where, how much, and the digest of all events in it."""

    path: str
    jobs: int
    events: int
    people: int
    digest: str
    forgotten: int = 0


@dataclass(frozen=True, slots=True)
class Health:
    """What a check of the whole record found: how many events were read, and each fault in words."""

    events: int
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Salvaged:
    """What came out of a damaged file: events and people that were missing here, and rows that gave no answer."""

    events: int
    people: int
    lost: int


Look = Callable[[Event, Sequence[Event]], Sequence[Event]]


class Store(Protocol):
    """Everything that is ever written or read. Each write is on the disk, whole, when the call returns.

    Every method raises `StorageError` when the disk, the file or the server fails; nothing half-written
    remains and the same call may be made again.
    """

    def append(self, events: Sequence[Event]) -> tuple[Event, ...]:
        """Store the events, all or none, and return them as stored.

        An act id that is known is not stored again.
        """

    def offer(self, events: Sequence[Event], look: Look) -> Offer:
        """Store the events unless `look(event, since)` names changes that somebody must see first."""

    def read(self, job: str, after_seq: int = 0) -> tuple[Event, ...]:
        """The job's events after `after_seq`, in order, each in the current version of its kind."""

    def find_act(self, act_id: str) -> tuple[Event, ...]:
        """The stored events of one act, on whatever job; empty when it never arrived."""

    def next_number(self) -> int:
        """A fresh job number; never given twice."""

    def jobs(
        self, *, open_only: bool = False, machine: str = "", person: str = "", limit: int | None = None
    ) -> tuple[JobLine, ...]:
        """The jobs, newest first."""

    def search(self, text: str, limit: int = 50) -> tuple[JobLine, ...]:
        """The jobs in which every word of the text begins some word of the record, newest first."""

    def put_person(self, fields: Mapping[str, Any], person: str = "") -> str:
        """Keep names, contacts, plates and free words under a random id (made here when none is given)."""

    def get_person(self, person: str) -> Mapping[str, Any] | None:
        """What is kept of a person; nothing after an erasure."""

    def find_people(self, text: str, limit: int = 20) -> tuple[tuple[str, Mapping[str, Any]], ...]:
        """People in whose fields every word of the text begins some word."""

    def erase_person(self, person: str, *, by: str, at: str) -> tuple[str, ...]:
        """Forget a person, the free words and the photos of their jobs, for ever; returns those jobs."""

    def put_blob(self, data: bytes, type: str, person: str = "") -> str:
        """Keep bytes by their hash, for a person or for the shop; size and type are checked."""

    def get_blob(self, hash: str) -> Blob | None:
        """The bytes of that hash."""

    def put_setting(self, key: str, value: Any) -> None:
        """Keep a setting of the shop: anything JSON can hold."""

    def get_setting(self, key: str, default: Any = None) -> Any:
        """A setting of the shop."""

    def settings(self) -> Mapping[str, Any]:
        """All settings of the shop."""

    def put_stamp(self, kind: str, data: bytes) -> str:
        """Keep a handbook or a table of rates whole; returns its hash."""

    def get_stamp(self, hash: str) -> bytes | None:
        """What was kept under that hash."""

    def backup(self, path: Path) -> Copy:
        """Write the whole record to one file while work goes on; it is checked before it gets its name."""

    def restore(self, path: Path) -> Copy:
        """Replace the record by a backup after checking it; whoever was erased since stays erased."""

    def salvage(self, damaged: Path) -> Salvaged:
        """Bring over from a damaged file whatever can be read and is not here yet."""

    def export_lines(self, path: Path, *, names: bool = True) -> int:
        """Write everything as JSON Lines; without names only engine facts. Returns the lines written."""

    def export_csv(self, path: Path) -> int:
        """Write one row a job, engine facts only. Returns the rows written."""

    def import_lines(self, path: Path) -> int:
        """Read what `export_lines` wrote; what is already here stays. Returns the events added."""

    def check(self) -> Health:
        """Read the whole record and report every fault."""

    def close(self) -> None:
        """Let go of files and connections."""
