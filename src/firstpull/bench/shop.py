"""An open workshop: the record, the handbook, the populations, and the jobs that are live in memory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from threading import RLock
from typing import Any

from firstpull.base.clock import Clock, now, stamp
from firstpull.base.errors import InputError
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
    _live: dict[str, tuple[int, Live | None]] = field(default_factory=dict)
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
        with self._lock:
            kept = self._live.get(record.job)
            if kept is None or kept[0] != record.last_seq:
                kept = (record.last_seq, replay(self.room, record, self.prices()))
                self._live.pop(record.job, None)
                self._live[record.job] = kept
                while len(self._live) > MOST_LIVE:
                    del self._live[next(iter(self._live))]
            return kept[1]

    def forget_live(self) -> None:
        """Reckon every job again when it is next looked at, as after a change of prices or instruments."""
        with self._lock:
            self._live.clear()

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
        return Done(self.record(job), offer.stored, offer.changed)

    def prices(self) -> Prices:
        """The shop's own prices and instruments, or the usual ones."""
        held = self.store.get_setting(PRICES_KEY, {}) or {}
        owned = self.store.get_setting(OWNED_KEY)
        known = {f.name for f in fields(Prices)} - {"owned", "masked", "unlocked"}
        said: dict[str, Any] = {k: float(v) for k, v in held.items() if k in known}
        if owned is not None:
            said["owned"] = frozenset(map(str, owned))
        return Prices(**said)
