"""Kills and load on the record, in figures.

    python benchmarks/hardship.py --kills 1000 --jobs 100000

Prints a table and writes benchmarks/hardship.json. Everything happens in a folder of its own, removed afterwards.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import firstpull  # noqa: E402
from firstpull.workshop.events import Event, new_event  # noqa: E402
from firstpull.workshop.fold import fold  # noqa: E402
from firstpull.workshop.port import Store  # noqa: E402
from firstpull.workshop.storage import open_store  # noqa: E402
from tests.hardship.killing import kill_writers, record_in  # noqa: E402

Figure = dict[str, Any]
EVENTS_A_JOB = 30
FIRST = ("Ada", "Ole", "Ines", "Tom", "Mira", "Jon", "Eva", "Piet", "Lena", "Karl")
LAST = ("Brook", "Fen", "Marsh", "Hill", "Ford", "Lane", "Mill", "Reed", "Stone", "Weir")
COMPLAINTS = ("will-not-start", "hunts", "bogs", "black-smoke", "rope-jammed", "dies-hot", "no-output", "blade-turns")
CLASSES = ("walk-mower-ohv", "trimmer-two-stroke", "generator-inverter", "snow-machine", "ride-on-single")


def figure(name: str, value: float, unit: str, better: str, goal: float | None) -> Figure:
    """One line of the table."""
    met = None if goal is None else (value <= goal if better == "lower" else value >= goal)
    return {"name": name, "value": round(value, 4), "unit": unit, "better": better, "goal": goal, "met": met}


def one_job(number: int, person: str, draw: random.Random) -> Iterator[Event]:
    """A job as a shop would leave it: thirty events, some with words."""
    job = f"J{number:06d}"
    day = f"20{10 + number * 16 // 1_000_000:02d}"
    at = f"{day}-{1 + number % 12:02d}-{1 + number % 28:02d}T09:00:00.000Z"

    def event(place: int, kind: str, body: dict[str, Any]) -> Event:
        return Event(job, 0, f"{job}-{place}", max(0, place - 1), kind, 1, at, "sam", body)

    opened = {
        "number": str(number), "person": person, "machine": f"m{number % 60_000}", "words": "sat all winter",
        "machine_class": draw.choice(CLASSES), "complaint": [draw.choice(COMPLAINTS)],
        "spending_limit": {"amount": "90.00", "currency": "EUR"},
    }  # fmt: skip
    yield event(0, "opened", opened)
    arrangement = {"off": ["starter-cover"], "added": ["control-held"], "drive": "drill", "thermal": "cold"}
    for place in range(1, EVENTS_A_JOB - 4):
        match place % 5:
            case 0:
                yield event(place, "access", {"item": "starter-cover", "state": "off" if place % 2 else "on"})
            case 1:
                yield event(place, "clock", {"state": "started" if place % 2 else "paused"})
            case 2:
                yield event(place, "note", {"text": f"rack {draw.randrange(40)}, lead chafed near tank"})
            case _:
                body = {"check": f"check-{place}", "reading": "dark", "arrangement": arrangement, "times": 3}
                yield event(place, "reading", body)
    yield event(EVENTS_A_JOB - 4, "repair", {"repair": "reroute-stop-lead"})
    yield event(EVENTS_A_JOB - 3, "proof", {"proof": "blade-stop", "result": "passed", "reading": 2.1, "unit": "s"})
    yield event(EVENTS_A_JOB - 2, "release", {"way": "working"})
    ending = ("handed-back", {"fuel": "left in"}) if number % 50 else ("stage", {"stage": "ready"})
    yield event(EVENTS_A_JOB - 1, *ending)


def take_in(store: Store, people: list[str], draw: random.Random, folder: Path) -> None:
    """All customers in one go."""
    with open(folder / "people.jsonl", "w", encoding="utf-8") as file:
        for number, person in enumerate(people):
            name = f"{draw.choice(FIRST)} {draw.choice(LAST)}{number // 10}"
            fields = {"name": name, "phone": f"555 {number:06d}", "plate": f"HV-{number}"}
            file.write(json.dumps({"person": {"id": person, "fields": fields}}) + "\n")
    store.import_lines(folder / "people.jsonl")


def fill(store: Store, jobs: int, folder: Path) -> list[Figure]:
    """Write so many jobs and say how quickly."""
    draw = random.Random(7)
    people = [f"p-{number:012d}" for number in range(jobs // 4 + 1)]
    started = time.perf_counter()
    take_in(store, people, draw, folder)
    waiting: list[Event] = []
    for number in range(jobs):
        waiting.extend(one_job(number, people[number // 4], draw))
        if len(waiting) >= 500 * EVENTS_A_JOB:
            store.append(waiting)
            waiting = []
            if number % 10_000 < 500:
                print(f"  {number} jobs", file=sys.stderr, flush=True)
    if waiting:
        store.append(waiting)
    seconds = time.perf_counter() - started
    events = jobs * EVENTS_A_JOB
    return [
        figure("events in the record", events, "1", "higher", None),
        figure("filling the record", events / seconds, "events/s", "higher", None),
    ]


def slowest(act: Callable[[int], object], times: int) -> tuple[float, float]:
    """Median and the value below which 95 in 100 lie, in milliseconds."""
    taken = []
    for number in range(times):
        started = time.perf_counter()
        act(number)
        taken.append((time.perf_counter() - started) * 1000)
    return statistics.median(taken), sorted(taken)[min(times - 1, int(times * 0.95))]


def load(folder: Path, jobs: int) -> list[Figure]:
    """A record of many jobs: opening one, finding one, starting the program, appending, backing up."""
    path = folder / "load.db"
    store = open_store(path)
    found = fill(store, jobs, folder)
    store.close()
    found.append(figure("size of the file", path.stat().st_size / 1e6, "MB", "lower", None))
    found.append(figure("starting and listing the open jobs", start_up(path), "s", "lower", 2.0))
    store = open_store(path)
    draw = random.Random(11)
    picks = [f"J{draw.randrange(jobs):06d}" for _ in range(200)]
    middle, late = slowest(lambda n: fold(store.read(picks[n])), 200)
    found += [
        figure("opening a job (read and folded), median", middle, "ms", "lower", 50.0),
        figure("opening a job (read and folded), 95 in 100", late, "ms", "lower", 50.0),
    ]
    texts = (
        "brook",
        "hunts",
        "ada marsh",
        "HV-4",
        "555 000",
        "will not start",
        "chafed rack 7",
        "zzz",
        "ines w",
        "j0",
        "hunts bogs",
        "hunts marsh",
    )
    middle, late = slowest(lambda n: store.search(texts[n % len(texts)]), 100)
    found += [
        figure("search, median", middle, "ms", "lower", 100.0),
        figure("search, 95 in 100", late, "ms", "lower", 100.0),
    ]
    at = "2026-04-11T09:00:00Z"

    def append(number: int) -> None:
        body = {"check": "spark-at-tester", "reading": "dark"}
        store.append([new_event(picks[number], "reading", body, by="sam", at=at, act_id=f"bench-{number}")])

    middle, late = slowest(append, 200)
    found += [
        figure("acknowledging one reading, median", middle, "ms", "lower", None),
        figure("acknowledging one reading, 95 in 100", late, "ms", "lower", None),
    ]
    middle, _ = slowest(lambda _: store.jobs(open_only=True, limit=200), 20)
    found.append(figure("listing 200 open jobs, median", middle, "ms", "lower", None))
    started = time.perf_counter()
    store.backup(folder / "load.backup")
    found.append(figure("writing and checking a backup", time.perf_counter() - started, "s", "lower", None))
    store.close()
    return found


def start_up(path: Path) -> float:
    """Best of three fresh processes that open the record and list what is on the bench."""
    code = (
        "import sys; from firstpull.workshop.storage import open_store;"
        "print(len(open_store(sys.argv[1]).jobs(open_only=True)))"
    )
    taken = []
    for _ in range(3):
        started = time.perf_counter()
        subprocess.run([sys.executable, "-c", code, str(path)], check=True, stdout=subprocess.DEVNULL)
        taken.append(time.perf_counter() - started)
    return min(taken)


def kills(folder: Path, count: int) -> list[Figure]:
    """Kill writers and count what is missing or there by half."""
    last = None
    for outcome in kill_writers(record_in(folder), count):
        last = outcome
        print(f"  {outcome}", file=sys.stderr, flush=True)
    if last is None:
        return []
    return [
        figure("writers killed", last.kills, "1", "higher", None),
        figure("acts acknowledged before the kills", last.acknowledged, "1", "higher", None),
        figure("acknowledged acts missing", last.missing, "1", "lower", 0),
        figure("acts there by half", last.half, "1", "lower", 0),
        figure("faults found by the check", last.faults, "1", "lower", 0),
    ]


def main() -> int:
    """Run what was asked for; the exit code is 1 when a goal was missed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--jobs", type=int, default=2000)
    parser.add_argument("--out", type=Path, default=ROOT / "benchmarks" / "hardship.json")
    parser.add_argument("--folder", type=Path, default=None, help="where to work (a real disk, not memory)")
    asked = parser.parse_args()
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    folder = Path(tempfile.mkdtemp(prefix="firstpull-hardship-", dir=asked.folder))
    try:
        found = kills(folder, asked.kills) + (load(folder, asked.jobs) if asked.jobs else [])
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    stamp = {
        "made_at": datetime.now(UTC).isoformat(timespec="seconds"), "version": firstpull.__version__,
        "python": platform.python_version(), "sqlite": sqlite3.sqlite_version, "machine": platform.machine(),
        "cores": os.cpu_count(),
        "load_average": round(os.getloadavg()[0], 2),
    }  # fmt: skip
    command = f"python benchmarks/hardship.py --kills {asked.kills} --jobs {asked.jobs}"
    asked.out.write_text(json.dumps({"command": command, "stamp": stamp, "figures": found}, indent=1) + "\n")
    for one in found:
        goal = "" if one["goal"] is None else f"goal {one['goal']:g}  {'met' if one['met'] else 'MISSED'}"
        print(f"{one['name']:<46}{one['value']:>16,.2f} {one['unit']:<9}{goal}")
    return 0 if all(one["met"] in (None, True) for one in found) else 1


if __name__ == "__main__":
    sys.exit(main())
