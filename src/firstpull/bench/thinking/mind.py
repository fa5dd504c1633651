"""A worker process: it reckons one thing after another and keeps the machines and jobs it knows warm."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path

from firstpull.bench.answer import answer
from firstpull.bench.nearby import may_light
from firstpull.bench.order_tree import order_tree
from firstpull.bench.replay import replay
from firstpull.bench.session import Session
from firstpull.bench.strips import strip
from firstpull.bench.thinking.asked import Answered, Asked
from firstpull.bench.thinking.memory import Sweeper, give_back, resident_bytes, undisturbed
from firstpull.bench.worldroom import WorldRoom
from firstpull.handbook.book import Book

IDLE_SECONDS = 3.0
MOST_JOBS = 24  # whose walks stay warm
MOST_BELIEVED = 3  # whose beliefs stay with the machines drawn for them alone: a strip or a chart may be asked for next
MOST_BYTES = 600_000_000  # of memory for one worker; beyond, what few jobs ask for goes, then jobs, then classes
POLITE = 15  # how much a worker that settles gives way to pages and first answers


class _LeftOff(Exception):
    """Something newer came, or first answers pile up."""


def _leave_off(stopped: Callable[[], bool]) -> None:
    if stopped():
        raise _LeftOff


@dataclass(eq=False)
class Mind:
    """The populations of a worker and the jobs it reckoned last."""

    room: WorldRoom
    most: int = MOST_JOBS
    most_bytes: int = MOST_BYTES
    _sessions: dict[str, tuple[str, Session]] = field(default_factory=dict)

    def reckon(self, asked: Asked, stopped: Callable[[], bool]) -> Answered:
        """Do what was asked; whatever goes wrong is told and harms nothing that comes after."""
        try:
            return self._reckon(asked, stopped)
        except Exception as error:  # a worker outlives every job; the page tells what went wrong
            return Answered(asked.number, failed=f"{type(error).__name__}: {error}")

    def _reckon(self, asked: Asked, stopped: Callable[[], bool]) -> Answered:
        session = self._session(asked)
        if asked.what == "strip":
            return Answered(asked.number, strip(session, *asked.rest))
        if asked.what == "chart":
            return Answered(asked.number, order_tree(session))
        if asked.what == "first":
            said = answer(session, depth=1, settle=False)
            return Answered(asked.number, said, may_light(session, said["next"]))
        try:
            session.belief(between=partial(_leave_off, stopped))
            _leave_off(stopped)
        except _LeftOff:
            return Answered(asked.number, stopped=True)
        said = answer(session)
        return Answered(asked.number, said, may_light(session, said["next"]))

    def make_room(self) -> None:
        """Let go of what is not in use once this process has grown too large; nothing is lost but warmth."""
        for forget in (self.room.forget_rare, self._forget_jobs, self._forget_class):
            if resident_bytes() <= self.most_bytes:
                return
            forget()
            give_back()

    def _forget_jobs(self) -> None:
        for job in list(self._sessions)[:-1]:
            self._let_go(job)

    def _forget_class(self) -> None:
        self.room.keep()
        self.room.forget_oldest()

    def _session(self, asked: Asked) -> Session:
        """The job as recorded; what was reckoned of its earlier acts is taken up again."""
        job = asked.record.job
        kept = self._sessions.pop(job, None)
        if kept is None or kept[0] != asked.mark:
            live = replay(self.room, asked.record, asked.prices, kept[1].scales if kept else None)
            if live is None:
                raise LookupError(f"no machine '{asked.record.machine_class}'")
            kept = (asked.mark, live.session)
        self._sessions[job] = kept
        while len(self._sessions) > self.most:
            self._let_go(next(iter(self._sessions)))
        for _, session in list(self._sessions.values())[:-MOST_BELIEVED]:
            session.forget_belief()
        return kept[1]

    def _let_go(self, job: str) -> None:
        self._sessions.pop(job)[1].scales.let_go()


def serve(pipe: Connection, book: Book, seed: int, shelf: Path | None, polite: bool) -> None:
    """Answer what comes through the pipe until it closes. A bare number asks to give up what bears that number."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever serves the pages ends this process
    if polite and hasattr(os, "nice"):
        os.nice(POLITE)
    mind = Mind(WorldRoom(book, seed, shelf))
    worked, sweeper = False, Sweeper()
    try:
        while True:
            if worked and not pipe.poll(IDLE_SECONDS):
                if polite:
                    mind.room.keep()
                sweeper.sweep(idle=True)
                worked = False
            asked = pipe.recv()
            if isinstance(asked, Asked):
                with undisturbed():
                    pipe.send(mind.reckon(asked, partial(_given_up, pipe, asked.number)))
                mind.make_room()
                sweeper.sweep()
                worked = True
    except (EOFError, OSError):
        return


def _given_up(pipe: Connection, number: int) -> bool:
    found = False
    while pipe.poll():
        found = pipe.recv() == number or found
    return found
