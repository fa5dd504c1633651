"""An open workshop: the record, the handbook, the populations, and the jobs that are live in memory."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from threading import RLock
from typing import Any

from firstpull.base.clock import Clock, now, stamp
from firstpull.base.errors import InputError
from firstpull.bench.reckoner import Reckoner
from firstpull.bench.replay import Live, replay
from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.prices import Prices
from firstpull.workshop.events import Event, new_event
from firstpull.workshop.fold import JobRecord, fold
from firstpull.workshop.port import Store
from firstpull.workshop.two_hands import to_look_at

MOST_LIVE = 64
PRICES_KEY = "prices"
OWNED_KEY = "instruments"
UNLOCKED_KEY = "unlocked"  # repairs that the handbook keeps locked and this shop has switched on


@dataclass(frozen=True, slots=True)
class Done:
    """What became of an act: the record after it, and what the other hand changed meanwhile if it waits for a look."""

    record: JobRecord
    stored: tuple[Event, ...] = ()
    changed: tuple[Event, ...] = ()

    @property
    def waits(self) -> bool:
        """Nothing was stored: somebody must look first."""
        return bool(self.changed)


@dataclass(eq=False)
class Shop:
    """The one place through which a job is read and written."""

    store: Store
    room: WorldRoom
    clock: Clock = now
    demo: bool = False
    pool: Reckoner | None = None  # workers that reckon; without them it is reckoned where it is asked
    _live: dict[str, tuple[str, Live | None]] = field(default_factory=dict)
    _times_forgotten: int = 0
    _lock: RLock = field(default_factory=RLock)

    def record(self, job: str) -> JobRecord:
        """What is known of a job.

        Raises:
            InputError: there is no such job.
        """
        events = self.store.read(job)
        if not events:
            raise InputError(f"no job '{job}'", "job", "a number from the rack")
        return fold(events, job, until=stamp(self.clock()))

    def live(self, record: JobRecord) -> Live | None:
        """The live session of a job as recorded; None when its class is not known."""
        mark = self.mark(record)
        with self._lock:
            kept = self._live.get(record.job)
            if kept is None or kept[0] != mark:
                before = kept[1].session.scales if kept is not None and kept[1] is not None else None
                kept = (mark, replay(self.room, record, self.prices(), before))
                self._live.pop(record.job, None)
                self._live[record.job] = kept
                while len(self._live) > MOST_LIVE:
                    del self._live[next(iter(self._live))]
            return kept[1]

    def mark(self, record: JobRecord) -> str:
        """What the reckoning of a job follows from, as one word: it stays the same when a note is kept."""
        acts = (*record.told_events, *record.readings, *record.access, *record.repairs, *record.unknown)
        said = (
            record.machine_class, record.complaint, sorted(record.conditions.items()), sorted(e.seq for e in acts),
            self._times_forgotten,
        )
        return hashlib.sha256(repr(said).encode()).hexdigest()[:16]

    def forget_live(self) -> None:
        """Reckon every job again when it is next looked at, as after a change of prices or instruments."""
        with self._lock:
            self._live.clear()
            self._times_forgotten += 1

    def do(self, job: str, kind: str, body: Mapping[str, Any], *, act_id: str, based_on: int, by: str) -> Done:
        """Append one act; sent twice it is stored once; guarded acts on a stale version wait for a look.

        Raises:
            FirstpullError: the body cannot be read, or the record cannot be written.
        """
        return self.do_all(job, [(kind, body)], act_id=act_id, based_on=based_on, by=by)

    def do_all(
        self, job: str, acts: list[tuple[str, Mapping[str, Any]]], *, act_id: str, based_on: int, by: str
    ) -> Done:
        """Append several acts at once, all or none."""
        at = stamp(self.clock())
        events = [new_event(job, kind, body, by=by, at=at, act_id=act_id, based_on=based_on) for kind, body in acts]
        offer = self.store.offer(events, to_look_at)
        record = self.record(job)
        self.think(record)
        return Done(record, offer.stored, offer.changed)

    def think(self, record: JobRecord, eager: bool = True) -> None:
        """Have the workers reckon what comes next on a job, when there are workers and its class is known."""
        if self.pool is not None and record.machine_class in self.room.book.machines:
            self.pool.want(self.mark(record), record, self.prices(), eager)

    def prices(self) -> Prices:
        """The shop's own prices and instruments, or the usual ones."""
        held = self.store.get_setting(PRICES_KEY, {}) or {}
        owned = self.store.get_setting(OWNED_KEY)
        known = {f.name for f in fields(Prices)} - {"owned", "masked", "unlocked"}
        said: dict[str, Any] = {k: float(v) for k, v in held.items() if k in known}
        if owned is not None:
            said["owned"] = frozenset(map(str, owned))
        said["unlocked"] = frozenset(map(str, self.store.get_setting(UNLOCKED_KEY) or ()))
        return Prices(**said)
