"""Read the whole record and name every fault; a fault never stops the look at the rest."""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import Connection, select
from sqlalchemy.exc import SQLAlchemyError

from firstpull.base.errors import StorageError
from firstpull.workshop.port import Health
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.reading import WITH_WORDS, event_of, words_missing


@dataclass
class _Job:
    """How far one job was read, and where words are missing or were erased."""

    last: int = 0
    lost: int = 0
    erased: int = 0


@dataclass
class _Look:
    """What was found so far."""

    events: int = 0
    faults: list[str] = field(default_factory=list)
    jobs: dict[str, _Job] = field(default_factory=dict)


def check_record(connection: Connection) -> Health:
    """Every event against its sum, every job against its count, and the file against itself."""
    look = _Look()
    try:
        if connection.dialect.name == "sqlite":
            found = connection.exec_driver_sql("PRAGMA integrity_check").scalars().all()
            look.faults += [str(fault) for fault in found if fault != "ok"]
        _events(connection, look)
        for job, seq in connection.execute(select(schema.jobs.c.job, schema.jobs.c.last_seq)):
            read = look.jobs.get(job, _Job())
            if read.last != seq:
                look.faults.append(f"job {job}: {seq} events were counted, {read.last} found")
    except SQLAlchemyError as error:
        look.faults.append(f"the file is damaged [{getattr(error, 'orig', error)}]")
    for name, job in look.jobs.items():
        if job.lost > job.erased:
            look.faults.append(f"job {name}: the words of event {job.lost} are gone")
    return Health(look.events, tuple(look.faults))


def _events(connection: Connection, look: _Look) -> None:
    ordered = WITH_WORDS.order_by(schema.events.c.job, schema.events.c.seq)
    for row in connection.execution_options(yield_per=2000).execute(ordered):
        look.events += 1
        job = look.jobs.setdefault(row.job, _Job())
        try:
            event_of(row, raw=True)
        except StorageError as error:
            look.faults.append(str(error))
        if row.seq != job.last + 1:
            look.faults.append(f"job {row.job}: event {job.last + 1} is missing")
        job.last = row.seq
        job.lost = row.seq if words_missing(row) else job.lost
        job.erased = row.seq if row.kind == "erased" else job.erased
