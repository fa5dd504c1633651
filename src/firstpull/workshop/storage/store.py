"""The store: each call of the port as one transaction through the door."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from firstpull.workshop.events import Event, check
from firstpull.workshop.line import JobLine
from firstpull.workshop.port import Blob, Copy, Health, Look, Offer, Salvaged
from firstpull.workshop.storage import (
    appending,
    blobs,
    copies,
    exchange,
    finding,
    forgotten,
    people,
    reading,
    shelf,
)
from firstpull.workshop.storage.checking import check_record
from firstpull.workshop.storage.door import Door
from firstpull.workshop.storage.salvage import salvage

BACKUP_FOLDERS = "backup-folders"


class SqlStore:
    """`workshop.port.Store` over one set of tables; see the port for what each call promises."""

    def __init__(self, door: Door, home: Path | None) -> None:
        self.door = door
        self.home = home

    def append(self, events: Sequence[Event]) -> tuple[Event, ...]:
        """Store the events."""
        checked = [check(event) for event in events]
        return self.door.write(lambda link: appending.offer(link, checked)).stored

    def offer(self, events: Sequence[Event], look: Look) -> Offer:
        """Store the events unless the look finds changes that somebody must see."""
        checked = [check(event) for event in events]
        return self.door.write(lambda link: appending.offer(link, checked, look))

    def read(self, job: str, after_seq: int = 0) -> tuple[Event, ...]:
        """The job's events after `after_seq`, in order."""
        return self.door.read(lambda link: reading.read_events(link, job, after_seq))

    def find_act(self, act_id: str) -> tuple[Event, ...]:
        """The stored events of one act."""
        return self.door.read(lambda link: reading.read_acts(link, [act_id]))

    def next_number(self) -> int:
        """A fresh job number."""
        return self.door.write(shelf.next_number)

    def jobs(
        self, *, open_only: bool = False, machine: str = "", person: str = "", limit: int | None = None
    ) -> tuple[JobLine, ...]:
        """The jobs, newest first."""
        return self.door.read(lambda link: finding.list_jobs(link, open_only, machine, person, limit))

    def search(self, text: str, limit: int = 50) -> tuple[JobLine, ...]:
        """The jobs in which every word of the text begins some word of the record."""
        return self.door.read(lambda link: finding.search_jobs(link, text, limit))

    def put_person(self, fields: Mapping[str, Any], person: str = "") -> str:
        """Keep names, contacts and free words apart from the events."""
        chosen = person or people.new_person_id()
        return self.door.write(lambda link: people.put_person(link, chosen, fields))

    def get_person(self, person: str) -> Mapping[str, Any] | None:
        """What is kept of a person."""
        return self.door.read(lambda link: people.get_person(link, person))

    def find_people(self, text: str, limit: int = 20) -> tuple[tuple[str, Mapping[str, Any]], ...]:
        """People in whose fields every word of the text begins some word."""
        return self.door.read(lambda link: finding.find_people(link, text, limit))

    def erase_person(self, person: str, *, by: str, at: str) -> tuple[str, ...]:
        """Forget a person."""
        # The lists beside the files first: if the machine stops in between, a restore already knows.
        forgotten.note_erasure(self._folders(), person, at)
        jobs = self.door.write(lambda link: people.erase(link, person, by, at))
        if self.door.is_sqlite:
            self._empty_log()
        return jobs

    def put_blob(self, data: bytes, type: str, person: str = "") -> str:
        """Keep bytes by their hash."""
        hash = blobs.checked_hash(data, type)
        return self.door.write(lambda link: blobs.put_blob(link, hash, data, type, person))

    def get_blob(self, hash: str) -> Blob | None:
        """The bytes of that hash."""
        return self.door.read(lambda link: blobs.get_blob(link, hash))

    def put_setting(self, key: str, value: Any) -> None:
        """Keep a setting of the shop."""
        self.door.write(lambda link: shelf.put_setting(link, key, value))

    def get_setting(self, key: str, default: Any = None) -> Any:
        """A setting of the shop."""
        return self.door.read(lambda link: shelf.get_setting(link, key, default))

    def settings(self) -> Mapping[str, Any]:
        """All settings of the shop."""
        return self.door.read(shelf.all_settings)

    def put_stamp(self, kind: str, data: bytes) -> str:
        """Keep a handbook or a table of rates whole."""
        return self.door.write(lambda link: shelf.put_stamp(link, kind, data))

    def get_stamp(self, hash: str) -> bytes | None:
        """What was kept under that hash."""
        return self.door.read(lambda link: shelf.get_stamp(link, hash))

    def backup(self, path: Path) -> Copy:
        """Write the whole record to one file while work goes on."""
        folders = {*self.get_setting(BACKUP_FOLDERS, []), str(path.absolute().parent)}
        self.put_setting(BACKUP_FOLDERS, sorted(folders))
        return copies.write_backup(self.door, path)

    def restore(self, path: Path) -> Copy:
        """Replace the record by a backup after checking it."""
        copy = copies.restore_backup(self.door, path, self._folders())
        if self.door.is_sqlite:
            self._empty_log()
        return copy

    def salvage(self, damaged: Path) -> Salvaged:
        """Bring over from a damaged file whatever can be read and is not here yet."""
        return self.door.write(lambda link: salvage(link, damaged))

    def export_lines(self, path: Path, *, names: bool = True) -> int:
        """Write everything as JSON Lines."""
        return self.door.read(lambda link: exchange.export_lines(link, path, names))

    def export_csv(self, path: Path) -> int:
        """Write one row a job."""
        return self.door.read(lambda link: exchange.export_csv(link, path))

    def import_lines(self, path: Path) -> int:
        """Read what `export_lines` wrote."""
        return self.door.write(lambda link: exchange.import_lines(link, path))

    def check(self) -> Health:
        """Read the whole record and report every fault."""
        return self.door.read(check_record)

    def close(self) -> None:
        """Let go of files and connections."""
        self.door.close()

    def _folders(self) -> list[Path]:
        known = [Path(folder) for folder in self.get_setting(BACKUP_FOLDERS, [])]
        return known if self.home is None else [self.home, *known]

    def _empty_log(self) -> None:
        """Fold the write-ahead log into the file, so that erased words do not linger in it."""
        raw = self.door.writer.raw_connection()
        try:
            raw.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
        finally:
            raw.close()
