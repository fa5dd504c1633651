"""Whatever order acts, undos, erasures, backups and restarts come in, the store agrees with a plain list."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from firstpull.workshop.events import Event, new_event
from firstpull.workshop.fold import fold
from firstpull.workshop.line import line_of
from firstpull.workshop.storage import open_store

JOBS = ("J1", "J2", "J3")
BODIES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("opened", {"complaint": ["hunts"], "words": "up and down", "person": "p-1"}),
    ("note", {"text": "chafed lead"}),
    ("reading", {"check": "k", "reading": "dark"}),
    ("advised", {"next": {"id": "k"}}),
    ("stage", {"stage": "on-bench"}),
    ("handed-back", {}),
    ("clock", {"state": "started"}),
    ("levitated", {"height": 2}),
)
AT = "2026-04-11T09:00:00.000Z"


class AnyOrder(RuleBasedStateMachine):
    """One SQLite file beside a model: for each job the list of events, and for each act its events."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = open_store(self.folder / "record.db")
        self.jobs: dict[str, list[Event]] = {job: [] for job in JOBS}
        self.acts: dict[str, list[Event]] = {}
        self.saved: tuple[dict[str, list[Event]], dict[str, list[Event]]] | None = None
        self.count = 0

    def _keep(self, act: str, events: list[Event]) -> tuple[Event, ...]:
        if act not in self.acts:
            self.acts[act] = []
            for event in events:
                kept = replace(event, seq=len(self.jobs[event.job]) + 1)
                self.jobs[event.job].append(kept)
                self.acts[act].append(kept)
        return tuple(self.acts[act])

    @rule(acts=st.lists(st.tuples(st.sampled_from(JOBS), st.sampled_from(BODIES)), min_size=1, max_size=3))
    def act(self, acts: list[tuple[str, tuple[str, dict[str, Any]]]]) -> None:
        self.count += 1
        name = f"a{self.count}"
        events = [new_event(job, kind, body, by="sam", at=AT, act_id=name) for job, (kind, body) in acts]
        assert self.store.append(events) == self._keep(name, events)

    @precondition(lambda self: self.acts)
    @rule(data=st.data())
    def send_again(self, data: st.DataObject) -> None:
        name = data.draw(st.sampled_from(sorted(self.acts)))
        again = [replace(event, seq=0, body={k: v for k, v in event.body.items() if k != "_erased"})
                 for event in self.acts[name]]  # fmt: skip
        stored = self.store.append(again)
        assert [(one.job, one.seq) for one in stored] == [(one.job, one.seq) for one in self.acts[name]]

    @precondition(lambda self: self.acts)
    @rule(data=st.data(), job=st.sampled_from(JOBS))
    def undo(self, data: st.DataObject, job: str) -> None:
        self.count += 1
        name = data.draw(st.sampled_from(sorted(self.acts)))
        event = new_event(job, "withdrawn", {"acts": [name]}, by="sam", at=AT, act_id=f"u{self.count}")
        assert self.store.append([event]) == self._keep(event.act_id, [event])

    @rule()
    def open_again(self) -> None:
        self.store.close()
        self.store = open_store(self.folder / "record.db")

    @rule()
    def back_up(self) -> None:
        copy = self.store.backup(self.folder / "day.backup")
        assert copy.events == sum(len(events) for events in self.jobs.values())
        self.saved = ({job: list(events) for job, events in self.jobs.items()}, dict(self.acts))

    @precondition(lambda self: self.saved is not None)
    @rule()
    def restore(self) -> None:
        assert self.saved is not None
        self.store.restore(self.folder / "day.backup")
        self.jobs = {job: list(events) for job, events in self.saved[0].items()}
        self.acts = dict(self.saved[1])

    @rule()
    def export_and_import(self) -> None:
        self.store.export_lines(self.folder / "all.jsonl")
        assert self.store.import_lines(self.folder / "all.jsonl") == 0

    @invariant()
    def the_record_is_the_list(self) -> None:
        for job, events in self.jobs.items():
            assert self.store.read(job) == tuple(events)
        wanted = {job: line_of(fold(events)) for job, events in self.jobs.items() if events}
        assert {line.job: line for line in self.store.jobs()} == wanted
        for text, kind in (("chafed", "note"), ("hunts", "opened")):
            found = {line.job for line in self.store.search(text)}
            assert found == {
                job
                for job, events in self.jobs.items()
                if (fold(events).notes if kind == "note" else fold(events).complaint)
            }

    def teardown(self) -> None:
        assert self.store.check().faults == ()
        self.store.close()
        shutil.rmtree(self.folder)


AnyOrder.TestCase.settings = settings(max_examples=12, stateful_step_count=14, deadline=None)
TestAnyOrder = AnyOrder.TestCase
