"""Twenty machines on the bench at once, over real HTTP: how long pages and answers take, and what it all weighs.

    python -m benchmarks.load --minutes 5

A server process of its own with its workers; this process plays the hands: each session takes a machine with a hidden
fault in and does what the page says, or now and then something else. A hand acts by the clock, once in ten seconds,
whether or not the answer to its last act has settled; where not even a first one is there, it checks something of its
own choosing. Afterwards twenty acts come within one second. Prints a table and writes benchmarks/load.json. Everything
happens in a folder of its own, removed afterwards.
"""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import json
import os
import platform
import random
import re
import shutil
import socket
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import httpx

import firstpull
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.practice.hidden import HiddenMachine
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.worlds import Worlds

ROOT = Path(__file__).resolve().parent.parent
CLASSES = ("walk-mower-ohv", "string-trimmer", "generator-inverter-50", "chain-saw")
EVERY_SECONDS = 10.0
ELSE = 0.15  # share of acts that nobody advised
RACK = 0.3  # share of acts after which the rack is looked at
NEWS = re.compile(r'data-news="([^"]+)"')
CHECK = re.compile(r'name="check" value="([^"]+)"')
REPAIR = re.compile(r'name="repair" value="([^"]+)"')
MOVE = re.compile(r'name="move" value="([^"]+)" checked')
TOKEN = re.compile(r'name="csrf" value="([^"]+)"')
VERSION = re.compile(r'name="based_on" value="(\d+)"')
Figure = dict[str, Any]


@dataclass(eq=False)
class Measured:
    """What was counted: seconds of pages, of first and settled answers, acts sent, and what was refused.

    An answer that had not come when the hand acted again counts with the time it was waited for, and is counted apart.
    """

    pages: list[float] = field(default_factory=list)
    firsts: list[float] = field(default_factory=list)
    settled: list[float] = field(default_factory=list)
    no_first: int = 0
    no_settled: int = 0
    acts: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    bytes_most: int = 0


@dataclass(eq=False)
class Hands:
    """One session: a machine with a hidden fault, and the page that lies open."""

    client: httpx.AsyncClient
    room: WorldRoom
    kind: str
    draw: random.Random
    measured: Measured
    name: str
    job: str = ""
    page: str = ""
    acted: int = 0
    hidden: HiddenMachine | None = None
    following: asyncio.Task[None] | None = None

    async def take_in(self) -> None:
        """Take a machine in and open its page."""
        book = self.room.worlds(self.kind, Conditions()).book
        fault = self.draw.choice(sorted(f for f, rate in book.rates.items() if rate > 0))
        seed = self.draw.randrange(1, 1_000_000)
        worlds = Worlds(book, Conditions(), seed, 1)
        self.hidden = HiddenMachine(worlds, frozenset({fault}), seed)
        said = {"who": self.name, "number": "0555 0199", "complaint": "won't start", "limit": "80",
                "machine": self.kind, "act": f"{self.name}-in-{self.acted}"}
        self.acted += 1
        self.page = (await self._timed("GET", "/take-in")).text
        answer = await self._timed("POST", "/take-in", said)
        self.measured.acts.append(said["act"])
        self.job = str(answer.headers["location"]).rsplit("/", 1)[1]
        await self.open()

    async def open(self) -> None:
        """Open the page of the job as it is now."""
        answer = await self._timed("GET", f"/job/{self.job}")
        self.page = answer.text
        self.measured.bytes_most = max(self.measured.bytes_most, answer.num_bytes_downloaded)

    async def act(self) -> bool:
        """Do one thing by the page as it is at this moment, and look at what comes of it; whether the job goes on."""
        await self.look_away()
        fields = self._chosen()
        if fields is None:
            return False
        act = f"{self.name}-{self.acted}"
        self.acted += 1
        began = time.perf_counter()
        answer = await self._timed("POST", f"/job/{self.job}/step", {"act": act, **fields})
        if answer.status_code != 303:
            said = re.search(r'id="errors">(.*?)</div>', answer.text, re.S)
            self.measured.refused.append(f"{answer.status_code} {fields} {said[1].strip() if said else ''}")
            return True
        self.measured.acts.append(act)
        await self.open()
        self.look_on(began)
        if self.draw.random() < RACK:
            await self._timed("GET", "/")
        return True

    def look_on(self, began: float, counted: bool = True) -> None:
        """From now on follow the page as it gets better, until something else is done."""
        self.following = asyncio.create_task(self.follow(began, counted))

    async def look_away(self) -> None:
        """Follow the page no longer, as whoever taps the next answer does."""
        if self.following is not None:
            self.following.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await self.following
        self.following = None

    async def follow(self, began: float, counted: bool = True) -> None:
        """Wait for the first answer and for the settled one, as the page's script does.

        A machine that was just taken in is no act: its answers are not counted with those of acts.
        """
        measured, first = self.measured, False
        try:
            while True:
                found = NEWS.search(self.page)
                if _stage(found) != "0" and not first:
                    first = True
                    if counted:
                        measured.firsts.append(time.perf_counter() - began)
                if found is None:
                    if counted:
                        measured.settled.append(time.perf_counter() - began)
                    return
                answer = await self.client.get(f"/job/{self.job}/news", params={"after": found[1]})
                if answer.status_code == 200:
                    self.page = answer.text
        except asyncio.CancelledError:
            if counted:
                waited = time.perf_counter() - began
                measured.settled.append(waited)
                measured.no_settled += 1
                if not first:
                    measured.firsts.append(waited)
                    measured.no_first += 1
            raise

    def _chosen(self) -> dict[str, Any] | None:
        """What is done next: what the page says, or now and then another check."""
        card = self.page.partition('class="area-step"')[2].partition('class="area-suspects"')[0]
        version = VERSION.search(self.page)
        seen = {"based_on": version[1] if version else "0"}
        check, repair = CHECK.search(card), REPAIR.search(card)
        assert self.hidden is not None
        book = self.hidden.worlds.book
        if self.draw.random() < ELSE or _stage(NEWS.search(self.page)) == "0":
            return {**seen, **self._reading(self.draw.choice(sorted(book.checks)))}
        if check and check[1] in book.checks:
            return {**seen, "move": MOVE.findall(card), **self._reading(check[1])}
        if check:
            still = self.hidden.still(check[1], self.acted)
            return {**seen, "check": check[1], "reading": "still" if still else "gone"}
        if repair:
            self.hidden.repair(book.repairs[repair[1]])
            return {**seen, "move": MOVE.findall(card), "repair": repair[1]}
        return None

    def _reading(self, check: str) -> dict[str, Any]:
        assert self.hidden is not None
        book = self.hidden.worlds.book
        option = next(iter(check_options(book, book.checks[check])), None)
        if option is None:
            return {"check": check, "reading": "not-done"}
        reads = self.hidden.read(check, arrangement_of(book, option), self.acted).reads
        said: dict[str, Any] = {"check": check, "drive": option.drive}
        if reads[0].word in ("not-possible", "now-and-then"):
            return {**said, "reading": reads[0].word}
        for read in reads:
            if read.places is not None and not read.word:
                said |= {"places_key": read.key or "", "place": list(read.places)}
            else:
                said |= {"reading": read.word, "value_key": read.key or ""}
        return said if "reading" in said or "place" in said else {"check": check, "reading": "not-done"}

    async def _timed(self, method: str, path: str, data: dict[str, Any] | None = None) -> httpx.Response:
        token = TOKEN.search(self.page)
        if data is not None and token is not None:
            data = {**data, "csrf": token[1]}
        began = time.perf_counter()
        answer = await self.client.request(method, path, data=data)
        self.measured.pages.append(time.perf_counter() - began)
        if answer.status_code >= 500 or (method == "GET" and answer.status_code >= 400):
            self.measured.refused.append(f"{answer.status_code} {path}")
        return answer


def _stage(news: re.Match[str] | None) -> str:
    """How far the answer on a page is: 0 none yet, 1 the first one, 2 settled."""
    return news[1].split(".")[1] if news else "2"


def turns(seconds: float) -> int:
    """How often a hand acts by the clock in so long a time; at least once."""
    return max(1, int(seconds / EVERY_SECONDS + 1e-6))


async def session(hands: Hands, began: float, ends: float) -> None:
    """One act in every ten seconds, at a random moment of them, whatever has come of the last one."""
    for turn in range(turns(ends - began)):
        moment = began + EVERY_SECONDS * turn + hands.draw.uniform(0, EVERY_SECONDS)
        await asyncio.sleep(max(0.0, moment - time.perf_counter()))
        if not await hands.act():
            await hands.take_in()
            hands.look_on(time.perf_counter(), counted=False)
    await asyncio.sleep(max(0.0, ends - time.perf_counter()))
    await hands.look_away()


async def play(address: str, sessions: int, seconds: float, server: int) -> tuple[Measured, Measured, list[Figure]]:
    """Open, work for so long, and then all hands at once."""
    room = open_room()
    opening, working, burst = Measured(), Measured(), Measured()
    limits = httpx.Limits(max_connections=None, max_keepalive_connections=None)
    async with httpx.AsyncClient(
        base_url=address, headers={"Origin": address}, timeout=120, limits=limits
    ) as client:
        everybody = [
            Hands(client, room, CLASSES[n % len(CLASSES)], random.Random(n), opening, f"hands{n}")
            for n in range(sessions)
        ]
        cold: list[float] = []
        for hands in everybody[: len(CLASSES)]:
            began = time.perf_counter()
            await hands.take_in()
            await hands.follow(began)
            cold.append(opening.firsts[-1])
        await asyncio.gather(*(_taken_in(hands) for hands in everybody[len(CLASSES) :]))
        for hands in everybody:
            hands.measured = working
        memory = asyncio.create_task(watch(server))
        spent, began = processor_seconds(server), time.perf_counter()
        await asyncio.gather(*(session(hands, began, began + seconds) for hands in everybody))
        took = time.perf_counter() - began
        used = [now - before for now, before in zip(processor_seconds(server), spent, strict=True)]
        load = os.getloadavg()[0]
        for hands in everybody:
            hands.measured = burst
        await asyncio.gather(*(_at(hands, random.Random(hands.name).random()) for hands in everybody))
        memory.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await memory
    return working, burst, [
        figure("first answer of a class never met before, worst", max(cold), "s", "lower", None),
        figure("memory, all processes", max(PEAK, default=0.0) / 1e9, "GB", "lower", 1.5),
        figure("processor time of the server, a page", 1000 * used[0] / len(working.pages), "ms", "lower", None),
        figure("processor time of the workers, an act", 1000 * used[1] / len(working.acts), "ms", "lower", None),
        figure("processors kept busy by all of it", sum(used) / took, "1", "lower", None),
        figure("load average at the end of the work", load, "1", "lower", None),
    ]


async def _taken_in(hands: Hands) -> None:
    await hands.take_in()
    await hands.follow(time.perf_counter())


async def _at(hands: Hands, wait: float) -> None:
    await asyncio.sleep(wait)
    while not await hands.act():
        await hands.take_in()
        await hands.follow(time.perf_counter(), counted=False)
    if hands.following is not None:
        await hands.following


PEAK: list[float] = []


async def watch(server: int) -> None:
    """Note the memory of the server and its workers every few seconds; what they share is counted once."""
    while True:
        PEAK.append(sum(_proportional(pid) for pid in family(server)))
        await asyncio.sleep(3)


def processor_seconds(server: int) -> tuple[float, float]:
    """Processor time so far, of the server and of all that it started."""
    return _spent(server), sum(_spent(pid) for pid in family(server)[1:])


def _spent(pid: int) -> float:
    with contextlib.suppress(OSError):
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
    return 0.0


def family(pid: int) -> list[int]:
    """A process and all that it started."""
    found = [pid]
    for path in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError, ValueError, IndexError):
            if int(path.read_text().rpartition(")")[2].split()[1]) == pid:
                found += family(int(path.parent.name))
    return found


def _proportional(pid: int) -> float:
    with contextlib.suppress(OSError):
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
            if line.startswith("Pss:"):
                return float(line.split()[1]) * 1024
    return 0.0


def figure(name: str, value: float, unit: str, better: str, goal: float | None) -> Figure:
    """One line of the table."""
    met = None if goal is None else (value <= goal if better == "lower" else value >= goal)
    return {"name": name, "value": round(value, 4), "unit": unit, "better": better, "goal": goal, "met": met}


def share(times: list[float], part: float) -> float:
    """A percentile in milliseconds; nothing measured is no number."""
    if not times:
        return float("nan")
    return sorted(times)[min(len(times) - 1, int(part * len(times)))] * 1000


@contextlib.contextmanager
def served(folder: Path) -> Iterator[tuple[str, int]]:
    """A workshop open on this machine in a process of its own: its address and process number."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        port = door.getsockname()[1]
    code = "from firstpull.cli.main import main; main()"
    process = subprocess.Popen(
        [sys.executable, "-c", code, "serve", "--data", str(folder), "--port", str(port)], stdout=subprocess.DEVNULL
    )
    address = f"http://127.0.0.1:{port}"
    try:
        for _ in range(300):
            with contextlib.suppress(httpx.HTTPError):
                httpx.get(f"{address}/static/tokens.css", timeout=2)
                break
            time.sleep(0.2)
        yield address, process.pid
    finally:
        process.terminate()
        process.wait(30)


def lost(folder: Path, acts: list[str]) -> int:
    """How many acts that were acknowledged are not in the record."""
    with contextlib.closing(sqlite3.connect(folder / "record.sqlite")) as record:
        there = {act for (act,) in record.execute("select act_id from events")}
    return len(set(acts) - there)


def run(sessions: int, seconds: float, folder: Path) -> list[Figure]:
    """All of it once, in a folder that is empty."""
    PEAK.clear()
    with served(folder) as (address, pid):
        working, burst, more = asyncio.run(play(address, sessions, seconds, pid))
    for words in working.refused + burst.refused:
        print(f"refused: {words}", file=sys.stderr)
    return [
        figure("acts sent by the clock", len(working.acts), "1", "higher", sessions * turns(seconds)),
        figure("acts sent all at once", len(burst.acts), "1", "higher", sessions),
        figure("acts lost", lost(folder, working.acts + burst.acts), "1", "lower", 0),
        figure("acts refused or broken", len(working.refused) + len(burst.refused), "1", "lower", 0),
        figure("page, median", statistics.median(working.pages) * 1000, "ms", "lower", None),
        figure("page, 95 in 100", share(working.pages, 0.95), "ms", "lower", 150),
        figure("first answer, median", statistics.median(working.firsts) * 1000, "ms", "lower", None),
        figure("first answer, 95 in 100", share(working.firsts, 0.95), "ms", "lower", 400),
        figure("first answers that were not there at the next act", working.no_first, "1", "lower", None),
        figure("settled answer, 95 in 100", share(working.settled, 0.95), "ms", "lower", None),
        figure("settled answers that were not there at the next act", working.no_settled, "1", "lower", None),
        figure("all at once: acts answered", len(burst.firsts), "1", "higher", sessions),
        figure("all at once: slowest first answer", share(burst.firsts, 1.0), "ms", "lower", 3000),
        figure("find page sent, largest", working.bytes_most / 1000, "kB", "lower", 150),
        *more,
    ]


def main() -> int:
    """Run and write; the exit code is 1 when a goal was missed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sessions", type=int, default=20)
    parser.add_argument("--minutes", type=float, default=5.0)
    parser.add_argument("--out", type=Path, default=ROOT / "benchmarks" / "load.json")
    asked = parser.parse_args()
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    before = os.getloadavg()[0]
    folder = Path(tempfile.mkdtemp(prefix="firstpull-load-"))
    try:
        found = run(asked.sessions, asked.minutes * 60, folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    stamp = {
        "made_at": datetime.now(UTC).isoformat(timespec="seconds"), "version": firstpull.__version__,
        "python": platform.python_version(), "machine": platform.machine(), "cores": os.cpu_count(),
        "load_average_before": round(before, 2), "sessions": asked.sessions, "minutes": asked.minutes,
    }  # fmt: skip
    command = f"python -m benchmarks.load --sessions {asked.sessions} --minutes {asked.minutes:g}"
    asked.out.write_text(json.dumps({"command": command, "stamp": stamp, "figures": found}, indent=1) + "\n")
    for one in found:
        goal = "" if one["goal"] is None else f"goal {one['goal']:g}  {'met' if one['met'] else 'MISSED'}"
        print(f"{one['name']:<52}{one['value']:>12,.2f} {one['unit']:<5}{goal}")
    return 0 if all(one["met"] in (None, True) for one in found) else 1


if __name__ == "__main__":
    sys.exit(main())
