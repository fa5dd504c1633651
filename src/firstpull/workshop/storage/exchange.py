"""Out and in as plain files.

JSON Lines with everything or with engine facts only, and a table of the jobs.
"""

from __future__ import annotations

import base64
import csv
import json
import os
import secrets
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, TextIO

from sqlalchemy import Connection, select

from firstpull.base.errors import FirstpullError, InputError, StorageError
from firstpull.workshop.events import Event, as_line, canonical, check, from_line, listed
from firstpull.workshop.line import JobLine
from firstpull.workshop.privacy import GONE, MARK, split
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.appending import offer
from firstpull.workshop.storage.blobs import checked_hash, put_blob
from firstpull.workshop.storage.people import put_person
from firstpull.workshop.storage.reading import WITH_WORDS, event_of
from firstpull.workshop.storage.rows import in_pieces, put
from firstpull.workshop.storage.shelf import put_stamp

COLUMNS = (
    "job", "machine_class", "complaint", "stage", "closed", "opened_on", "minutes", "comeback_of", "readings",
    "repairs",
)  # fmt: skip


def export_lines(connection: Connection, path: Path, names: bool) -> int:
    """Write the record as lines `{"what": {...}}`.

    Raises:
        StorageError: when the file cannot be written.
    """
    return _to_file(path, lambda file: _write_all(file, _lines(connection, names)))


def _write_all(file: TextIO, lines: Iterator[str]) -> int:
    written = 0
    for line in lines:
        file.write(line + "\n")
        written += 1
    return written


def _lines(connection: Connection, names: bool) -> Iterator[str]:
    if names:
        for person, fields in connection.execute(select(schema.people.c.person, schema.people.c.fields)).all():
            yield canonical({"person": {"id": person, "fields": json.loads(fields)}})
        for row in connection.execute(select(schema.erasures)).all():
            yield canonical({"erased": {"id": row.person, "at": row.at_utc}})
        for row in connection.execute(select(schema.settings)).all():
            yield canonical({"setting": {"key": row.key, "value": json.loads(row.value)}})
        owned = schema.blobs.join(schema.blob_owners, schema.blobs.c.hash == schema.blob_owners.c.hash)
        for row in connection.execute(select(schema.blobs, schema.blob_owners.c.person).select_from(owned)):
            data = base64.b64encode(row.data).decode("ascii")
            yield canonical({"blob": {"type": row.type, "person": row.person, "data": data}})
    for row in connection.execute(select(schema.stamps)).all():
        yield canonical({"stamp": {"kind": row.kind, "data": base64.b64encode(row.data).decode("ascii")}})
    ordered = WITH_WORDS.order_by(schema.events.c.job, schema.events.c.seq)
    hands: dict[str, str] = {}
    for row in connection.execution_options(yield_per=2000).execute(ordered):
        event = event_of(row, raw=True)
        yield '{"event":' + as_line(event if names else _nameless(event, hands)) + "}"


def _nameless(event: Event, hands: dict[str, str]) -> Event:
    """Engine facts only: no words, no person, and hands told apart by a number."""
    hand = hands.setdefault(event.by, f"hand-{len(hands) + 1}")
    kept, _ = split(event)
    gone = [*listed(kept.pop(MARK, [])), *listed(kept.pop(GONE, []))]
    if gone:
        kept[GONE] = sorted(gone)
    return replace(event, by=hand, body={key: value for key, value in kept.items() if key not in ("person", "machine")})


def export_csv(connection: Connection, path: Path) -> int:
    """Write one row a job with engine facts.

    Raises:
        StorageError: when the file cannot be written.
    """
    return _to_file(path, lambda file: _write_rows(file, connection))


def _write_rows(file: TextIO, connection: Connection) -> int:
    writer = csv.DictWriter(file, COLUMNS)
    writer.writeheader()
    counts: dict[str, dict[str, int]] = {}
    counted = select(schema.events.c.job, schema.events.c.kind).where(schema.events.c.kind.in_(["reading", "repair"]))
    for job, kind in connection.execution_options(yield_per=2000).execute(counted):
        of_job = counts.setdefault(job, {"reading": 0, "repair": 0})
        of_job[kind] += 1
    rows = 0
    for text in connection.execute(select(schema.jobs.c.line).order_by(schema.jobs.c.job)).scalars():
        line = JobLine.of_dict(json.loads(text))
        found = counts.get(line.job, {"reading": 0, "repair": 0})
        writer.writerow(_row(line, found))
        rows += 1
    return rows


def _row(line: JobLine, found: Mapping[str, int]) -> dict[str, Any]:
    row: dict[str, Any] = {
        "job": line.job, "machine_class": line.machine_class, "complaint": " ".join(line.complaint),
        "stage": line.stage, "closed": int(line.closed), "opened_on": line.opened_at[:10],
        "minutes": line.minutes, "comeback_of": line.comeback_of,
        "readings": found["reading"], "repairs": found["repair"],
    }  # fmt: skip
    # A cell that begins like a formula must not become one in a spreadsheet.
    return {
        key: "'" + cell if isinstance(cell, str) and cell.startswith(("=", "+", "-", "@", "\t")) else cell
        for key, cell in row.items()
    }


def _to_file(path: Path, write: Callable[[TextIO], int]) -> int:
    passing = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with open(passing, "w", encoding="utf-8", newline="") as file:
            count = write(file)
            file.flush()
            os.fsync(file.fileno())
        os.replace(passing, path)
    except OSError as error:
        raise StorageError(f"nothing was exported [{error}]", str(path), "a folder with room and rights") from error
    finally:
        passing.unlink(missing_ok=True)
    return count


def import_lines(connection: Connection, path: Path) -> int:
    """Read what `export_lines` wrote, in the caller's transaction: all of it or nothing.

    Raises:
        InputError: when a line cannot be read; it is named.
        StorageError: when the file cannot be read.
    """
    added = 0
    waiting: list[Event] = []
    try:
        with open(path, encoding="utf-8") as file:
            for piece in in_pieces(enumerate(file, 1), 2000):
                for number, line in piece:
                    if line.strip():
                        _one_line(connection, line, f"{path}, line {number}", waiting)
                added += _append_new(connection, waiting)
                waiting.clear()
    except (OSError, UnicodeDecodeError) as error:
        raise StorageError(f"the file cannot be read [{error}]", str(path), "a file written by the export") from error
    return added


def _append_new(connection: Connection, waiting: list[Event]) -> int:
    before = _heads(connection, waiting)
    offer(connection, sorted(waiting, key=lambda one: (one.job, one.seq)))
    return _heads(connection, waiting) - before


def _heads(connection: Connection, waiting: list[Event]) -> int:
    """How many events the jobs of these events hold together."""
    total = 0
    for piece in in_pieces({event.job for event in waiting}):
        found = select(schema.jobs.c.last_seq).where(schema.jobs.c.job.in_(piece))
        total += sum(connection.execute(found).scalars())
    return total


def _one_line(connection: Connection, line: str, where: str, waiting: list[Event]) -> None:
    try:
        raw = json.loads(line)
        ((what, value),) = raw.items()
        match what:
            case "event":
                waiting.append(check(from_line(canonical(value))))
            case "person":
                gone = select(schema.erasures.c.person).where(schema.erasures.c.person == value["id"])
                if not connection.execute(gone).first():
                    put_person(connection, value["id"], value["fields"])
            case "erased":
                put(connection, schema.erasures, {"person": value["id"], "at_utc": value["at"]}, replace=False)
            case "setting":
                row = {"key": value["key"], "value": json.dumps(value["value"], sort_keys=True)}
                put(connection, schema.settings, row, replace=False)
            case "blob":
                data = base64.b64decode(value["data"], validate=True)
                put_blob(connection, checked_hash(data, value["type"]), data, value["type"], value["person"])
            case "stamp":
                put_stamp(connection, value["kind"], base64.b64decode(value["data"], validate=True))
            case _:
                raise InputError(f"a line of {what!r}", where, "event, person, erased, setting, blob or stamp")
    except (ValueError, KeyError, TypeError, AttributeError, FirstpullError) as error:
        raise InputError(f"the line cannot be read [{error}]", where, "a line written by the export") from error
