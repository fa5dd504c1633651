"""The pool of workers: one gives first answers, the other settles them; one that dies is started again.

The record is written before anything is asked here, so nothing that happens to a worker can lose an act.
"""

from __future__ import annotations

import contextlib
import itertools
import multiprocessing
import os
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path
from threading import Condition, Lock, Thread
from typing import Any

from firstpull.base.errors import FirstpullError
from firstpull.bench.reckoner import Known, Listener, Made, What
from firstpull.bench.thinking.asked import Answered, Asked
from firstpull.bench.thinking.mind import serve
from firstpull.bench.thinking.queue import ALONE, BACK, FRONT, Errand, Queue, Want
from firstpull.handbook.book import Book
from firstpull.reasoning.prices import Prices
from firstpull.workshop.fold import JobRecord

MOST_CRASHES = 2
MOST_KNOWN = 256
MOST_MADE = 32
END_SECONDS = 5.0
Told = Callable[[str, Known], None]


@dataclass(eq=False)
class _Worker:
    """A running process, our end of its pipe, and a lock so that two threads never write into it at once."""

    process: SpawnProcess
    pipe: Connection
    door: Lock = field(default_factory=Lock)
    busy_with: Want | None = None
    number: int = 0

    def send(self, message: object) -> None:
        with self.door:
            self.pipe.send(message)


@dataclass(eq=False)
class Pool:
    """Workers for one workshop. `told` hears every answer that is current when it comes."""

    book: Book
    seed: int = 0
    shelf: Path | None = None
    size: int = 2
    told: Told = field(default=lambda job, known: None)
    _queue: Queue = field(default_factory=Queue)
    _known: dict[str, Known] = field(default_factory=dict)
    _trouble: dict[str, tuple[str, str]] = field(default_factory=dict)
    _listeners: dict[str, list[Listener]] = field(default_factory=dict)
    _made: dict[tuple[What, str], Errand] = field(default_factory=dict)
    _news: Condition = field(default_factory=Condition)
    _workers: dict[str, _Worker] = field(default_factory=dict)
    _threads: list[Thread] = field(default_factory=list)
    _numbers: itertools.count[int] = field(default_factory=lambda: itertools.count(1))
    _closed: bool = False
    restarts: int = 0

    def start(self) -> None:
        """Start the workers; they get ready while pages are served already."""
        roles = (FRONT, BACK) if self.size > 1 else (ALONE,)
        for role in roles:
            thread = Thread(target=self._run, args=(role,), name=f"reckoning {role}", daemon=True)
            self._threads.append(thread)
            thread.start()

    def close(self) -> None:
        """End the workers; what they had not finished is reckoned again when it is next wanted."""
        with self._news:
            self._closed = True
            self._news.notify_all()
            workers = list(self._workers.values())
        for worker in workers:
            worker.process.terminate()
        for thread in self._threads:
            thread.join(END_SECONDS)

    def processes(self) -> tuple[int, ...]:
        """The process numbers of the workers that run."""
        with self._news:
            return tuple(w.process.pid for w in self._workers.values() if w.process.pid is not None)

    def want(self, mark: str, record: JobRecord, prices: Prices, eager: bool = True) -> None:
        """Have the answer to a job as recorded; work on an older state of it is given up.

        Where first answers pile up, whoever settles another job leaves off, and takes it up again when they are given.
        """
        job = record.job
        with self._news:
            known, old = self._known.get(job), self._queue.wants.get(job)
            if known is not None and known.mark == mark and known.settled:
                return
            if self._trouble.get(job, ("", ""))[0] == mark:
                return
            if old is not None and old.mark == mark:
                old.eager = old.eager or eager
                return
            self._trouble.pop(job, None)
            self._queue.wants[job] = Want(mark, record, prices, next(self._numbers), eager)
            busy = [(w, w.busy_with) for w in self._workers.values() if w.busy_with is not None]
            leave = [w for w, on in busy if on is old or (on.first_there and self._queue.pressed)]
            self._news.notify_all()
        for worker in leave:
            with contextlib.suppress(OSError):  # a worker that is gone needs no telling
                worker.send(worker.number)

    def known(self, job: str) -> Known | None:
        """What was last said of a job, whatever state of it that was."""
        return self._known.get(job)

    def trouble(self, job: str, mark: str) -> str:
        """Why a job in this state could not be reckoned; nothing when nothing is wrong."""
        found = self._trouble.get(job)
        return found[1] if found is not None and found[0] == mark else ""

    def restarted(self, job: str, mark: str) -> bool:
        """Whether a worker had to be started again while it reckoned a job in this state."""
        with self._news:
            want, known = self._queue.wants.get(job), self._known.get(job)
            if want is not None and want.mark == mark:
                return want.crashes > 0
            return known is not None and known.mark == mark and known.restarted

    def wait_settled(self, job: str, mark: str, seconds: float) -> Known | None:
        """The settled answer to a state of a job, if it comes in time and nothing goes wrong."""
        ends = time.monotonic() + seconds
        with self._news:
            while not self._closed:
                known = self._known.get(job)
                if known is not None and known.mark == mark and known.settled:
                    return known
                left = ends - time.monotonic()
                if left <= 0 or self.trouble(job, mark):
                    return None
                self._news.wait(left)
        return None

    def call(
        self, what: What, mark: str, record: JobRecord, prices: Prices, *rest: Any, seconds: float = 30.0
    ) -> Any:
        """Have one thing done by a worker and wait for it.

        Raises:
            FirstpullError: it could not be done, or not in time.
        """
        errand = Errand(what, mark, record, prices, rest)
        with self._news:
            self._queue.errands.append(errand)
            self._news.notify_all()
        if not errand.done.wait(seconds) or errand.failed:
            raise FirstpullError(
                "this could not be reckoned now", errand.failed or f"{seconds:g} seconds", "ask again in a while"
            )
        return errand.value

    def made(self, what: What, mark: str, record: JobRecord, prices: Prices) -> Made | None:
        """A thing that takes long, once it is made; whoever asks first begins it, and nobody waits.

        What could not be made is told once and begun again when it is next asked for.
        """
        key = (what, record.job)
        with self._news:
            errand = self._made.pop(key, None)
            if errand is not None and errand.mark != mark:
                with contextlib.suppress(ValueError):  # of an older state; perhaps it was begun
                    self._queue.errands.remove(errand)
                errand = None
            if errand is None:
                errand = Errand(what, mark, record, prices, ())
                self._queue.errands.append(errand)
                self._news.notify_all()
            done = errand.done.is_set()
            if not (done and errand.failed):
                self._made[key] = errand
            while len(self._made) > MOST_MADE:
                del self._made[next(iter(self._made))]
        return Made(errand.value, errand.failed) if done else None

    def listen(self, job: str, listener: Listener) -> None:
        """Call this, from another thread, whenever there is news of a job."""
        with self._news:
            self._listeners.setdefault(job, []).append(listener)

    def unlisten(self, job: str, listener: Listener) -> None:
        """Call it no longer."""
        with self._news:
            self._listeners[job].remove(listener)
            if not self._listeners[job]:
                del self._listeners[job]

    def _run(self, role: str) -> None:
        """Feed one worker, and start it again when it dies."""
        while not self._closed:
            worker = self._start(role)
            if worker is not None:
                self._feed(role, worker)
                worker.pipe.close()
                worker.process.join(END_SECONDS)

    def _start(self, role: str) -> _Worker | None:
        for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
            os.environ.setdefault(name, "1")  # one core a worker; read when the worker loads its arithmetic
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(
            target=serve, args=(theirs, self.book, self.seed, self.shelf, role == BACK),
            name=f"reckoning {role}", daemon=True,
        )
        process.start()
        theirs.close()
        worker = _Worker(process, ours)
        with self._news:
            if self._closed:
                process.terminate()
                return None
            self._workers[role] = worker
        return worker

    def _feed(self, role: str, worker: _Worker) -> None:
        """Hand over one thing after another until the worker dies or the pool closes."""
        while (task := self._next(role, worker)) is not None:
            what: What = task.what
            asked = Asked(worker.number, what, task.mark, task.record, task.prices,
                          task.rest if isinstance(task, Errand) else ())
            sent = False
            try:
                worker.send(asked)
                sent = True
                answered: Answered = worker.pipe.recv()
            except (EOFError, OSError):
                self._died(task, blamed=sent)
                return
            with self._news:
                worker.busy_with = None
            if isinstance(task, Errand):
                task.value, task.failed = answered.value, answered.failed
                task.done.set()
            else:
                self._took(task, what, answered)

    def _next(self, role: str, worker: _Worker) -> Want | Errand | None:
        with self._news:
            while not self._closed:
                task = self._queue.pick(role)
                if task is not None:
                    worker.number = next(self._numbers)
                    worker.busy_with = task if isinstance(task, Want) else None
                    return task
                self._news.wait()
        return None

    def _died(self, task: Want | Errand, blamed: bool) -> None:
        """Ask again once; what kills a worker every time is given up, and said. One that died idle blames nothing."""
        with self._news:
            if self._closed:
                return
            self.restarts += 1
            task.crashes += blamed
            if task.crashes < MOST_CRASHES:
                if isinstance(task, Errand):
                    self._queue.errands.appendleft(task)
                else:
                    task.taken = False
            elif isinstance(task, Errand):
                task.failed = "the reckoning stopped twice"
                task.done.set()
            else:
                self._give_up(task, "The reckoning stopped twice.")
            self._news.notify_all()
        self._call_listeners(task.record.job)

    def _give_up(self, want: Want, why: str) -> None:
        job = want.record.job
        if self._queue.wants.get(job) is want:
            del self._queue.wants[job]
            self._trouble[job] = (want.mark, why)

    def _took(self, want: Want, what: What, answered: Answered) -> None:
        job = want.record.job
        with self._news:
            current = self._queue.wants.get(job) is want
            if answered.failed:
                self._give_up(want, answered.failed)
            elif not answered.stopped and (current or job not in self._known):
                self._known.pop(job, None)
                self._known[job] = Known(want.mark, what == "settled", answered.value, answered.lights,
                                         want.crashes > 0)
                while len(self._known) > MOST_KNOWN:
                    del self._known[next(iter(self._known))]
            want.taken, want.first_there = False, True
            if current and what == "settled" and not answered.stopped:
                self._queue.wants.pop(job, None)
            known = self._known.get(job)
            self._news.notify_all()
        if current and known is not None and known.mark == want.mark:
            self.told(job, replace(known))
        self._call_listeners(job)

    def _call_listeners(self, job: str) -> None:
        with self._news:
            listeners = list(self._listeners.get(job, ()))
        for listener in listeners:
            listener()
