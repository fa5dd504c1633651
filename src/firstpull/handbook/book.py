"""The whole handbook in memory: entries by kind and id, the same for every order of files."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from pydantic import BaseModel

from firstpull.engine.vocabulary.types import DRIVES
from firstpull.handbook.entries import (
    Access,
    Caution,
    Check,
    Complaint,
    DriveWay,
    Fault,
    Instrument,
    MachineClass,
    ReleaseProof,
    Repair,
    Retired,
    Told,
)

_E = TypeVar("_E")
# Kind in TOML to the name of the book's dictionary of it.
SHELVES: dict[str, str] = {
    "fault": "faults",
    "check": "checks",
    "repair": "repairs",
    "access": "access",
    "drive": "drive_ways",
    "complaint": "complaints",
    "told": "told",
    "instrument": "instruments",
    "caution": "cautions",
    "release": "releases",
    "machine": "machines",
    "retired": "retired",
}


@dataclass(frozen=True, eq=False)
class Book:
    """Everything that the handbook says, each dictionary sorted by id. Equal and hashed by content."""

    faults: Mapping[str, Fault]
    checks: Mapping[str, Check]
    repairs: Mapping[str, Repair]
    access: Mapping[str, Access]
    drive_ways: Mapping[str, DriveWay]
    complaints: Mapping[str, Complaint]
    told: Mapping[str, Told]
    instruments: Mapping[str, Instrument]
    cautions: Mapping[str, Caution]
    releases: Mapping[str, ReleaseProof]
    machines: Mapping[str, MachineClass]
    retired: Mapping[str, Retired]
    hash: str

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Book) and other.hash == self.hash

    def __hash__(self) -> int:
        return hash(self.hash)

    @cached_property
    def drives(self) -> tuple[DriveWay, ...]:
        """The ways of spinning an engine, the plainest first."""
        return tuple(sorted(self.drive_ways.values(), key=lambda way: (DRIVES.index(way.drive), way.id)))

    @cached_property
    def systems(self) -> tuple[str, ...]:
        """The systems that have faults, checks or repairs."""
        return tuple(sorted({e.system for shelf in (self.faults, self.checks, self.repairs) for e in shelf.values()}))

    def shelf(self, kind: str) -> Mapping[str, BaseModel]:
        """All entries of a kind, which is named as in a chapter: fault, check, ..."""
        found: Mapping[str, BaseModel] = getattr(self, SHELVES[kind])
        return found

    def name(self, kind: str, entry_id: str) -> str:
        """What people call an entry; the id itself when the handbook does not (or no longer) hold it."""
        return str(getattr(self.shelf(kind).get(entry_id), "name", entry_id))

    def today(self, kind: str, entry_id: str) -> str | None:
        """The id that an entry has today, whatever it was called when a job named it; None when it is gone."""
        seen: set[str] = set()
        while entry_id not in self.shelf(kind):
            old = self.retired.get(entry_id)
            if old is None or old.kind != kind or old.becomes is None or entry_id in seen:
                return None
            seen.add(entry_id)
            entry_id = old.becomes
        return entry_id

    def texts(self, cautions: Sequence[str]) -> tuple[str, ...]:
        """The sentences of these cautions, dangers first, each once."""
        known = [self.cautions[c] for c in dict.fromkeys(cautions) if c in self.cautions]
        return tuple(c.text for c in sorted(known, key=lambda c: not c.danger))


def make_book(entries: Mapping[str, Mapping[str, BaseModel]]) -> Book:
    """A book from entries by kind and id."""
    return Book(
        faults=_sorted(entries, "fault", Fault),
        checks=_sorted(entries, "check", Check),
        repairs=_sorted(entries, "repair", Repair),
        access=_sorted(entries, "access", Access),
        drive_ways=_sorted(entries, "drive", DriveWay),
        complaints=_sorted(entries, "complaint", Complaint),
        told=_sorted(entries, "told", Told),
        instruments=_sorted(entries, "instrument", Instrument),
        cautions=_sorted(entries, "caution", Caution),
        releases=_sorted(entries, "release", ReleaseProof),
        machines=_sorted(entries, "machine", MachineClass),
        retired=_sorted(entries, "retired", Retired),
        hash=_content_hash(entries),
    )


def _sorted(entries: Mapping[str, Mapping[str, BaseModel]], kind: str, model: type[_E]) -> dict[str, _E]:
    return {name: entry for name, entry in sorted(entries.get(kind, {}).items()) if isinstance(entry, model)}


def _content_hash(entries: Mapping[str, Mapping[str, BaseModel]]) -> str:
    content = [
        (kind, name, entry.model_dump(mode="json", by_alias=True))
        for kind in SHELVES
        for name, entry in sorted(entries.get(kind, {}).items())
    ]
    text = json.dumps(content, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:16]
