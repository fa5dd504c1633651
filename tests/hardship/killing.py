"""Writers that are killed at a random moment, and the count of what must be there afterwards.

Each writer is a process of its own. It tells an act to its parent only after the store has acknowledged it, and it
is ended by SIGKILL, so nothing can be tidied up. Loss of power is harder than this: there the disk's own promise
about flushed writes counts, which no test in a process can take away.
"""

from __future__ import annotations

import os
import random
import select
import signal
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from firstpull.workshop.events import new_event
from firstpull.workshop.storage import open_store

JOBS = 5


@dataclass
class Outcome:
    """What the kills left behind."""

    kills: int = 0
    acknowledged: int = 0
    stored: int = 0
    missing: int = 0
    half: int = 0
    faults: int = 0


def _write(where: str, name: str, pipe: int, seed: int) -> None:
    """Append acts for ever; an act has one to four events, some on several jobs at once."""
    draw = random.Random(seed)
    store = open_store(where)
    count = 0
    while True:
        act = f"{name}-{count}"
        size = draw.randint(1, 4)
        store.append(
            [
                new_event(
                    f"J{draw.randrange(JOBS)}",
                    "note",
                    {"text": "x" * draw.randint(0, 3000), "about": f"{part} of {size}"},
                    by=name,
                    at="2026-04-11T09:00:00Z",
                    act_id=act,
                )
                for part in range(size)
            ]
        )
        os.write(pipe, f"{act} {size}\n".encode())
        count += 1


def kill_one(where: str, name: str, seed: int, patience: float) -> dict[str, int]:
    """Start one writer and kill it within `patience` seconds; returns its acknowledged acts.

    One writer in four is killed while it opens the record, the others some time after their first act.
    """
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reader)
            _write(where, name, writer, seed)
        finally:
            os._exit(1)
    os.close(writer)
    said = b""
    if seed % 4:
        said += os.read(reader, 65536)
    end = time.monotonic() + random.Random(seed).uniform(0.0, patience)
    while time.monotonic() < end:
        ready, _, _ = select.select([reader], [], [], max(0.0, end - time.monotonic()))
        if ready:
            piece = os.read(reader, 65536)
            if not piece:
                break
            said += piece
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while piece := os.read(reader, 65536):
        said += piece
    os.close(reader)
    whole = said[: said.rfind(b"\n") + 1].decode()
    return {act: int(size) for act, size in (line.split() for line in whole.splitlines())}


def kill_writers(where: str, kills: int, patience: float = 0.15, seed: int = 1) -> Iterator[Outcome]:
    """Kill so many writers one after the other on one record; yields the outcome after each look."""
    outcome = Outcome()
    acknowledged: dict[str, int] = {}
    for number in range(kills):
        acknowledged |= kill_one(where, f"w{number}", seed + number, patience)
        outcome.kills += 1
        if (number + 1) % 50 == 0 or number + 1 == kills:
            _look(where, acknowledged, outcome)
            yield outcome


def _look(where: str, acknowledged: dict[str, int], outcome: Outcome) -> None:
    store = open_store(where)
    found: dict[str, int] = {}
    sizes: dict[str, int] = {}
    for job in range(JOBS):
        for event in store.read(f"J{job}"):
            found[event.act_id] = found.get(event.act_id, 0) + 1
            sizes[event.act_id] = int(str(event.body["about"]).split(" of ")[1])
    outcome.acknowledged = len(acknowledged)
    outcome.stored = len(found)
    outcome.missing = sum(found.get(act) != size for act, size in acknowledged.items())
    outcome.half = sum(found[act] != size for act, size in sizes.items())
    outcome.faults = len(store.check().faults)
    store.close()


def record_in(folder: Path) -> str:
    """The path of a record in this folder."""
    return str(folder / "record.db")
