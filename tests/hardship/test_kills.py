"""Killed at any moment: what was acknowledged is there, and nothing is there by half."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import Connection

from firstpull.base.errors import StorageError
from firstpull.workshop.events import Event, new_event
from firstpull.workshop.port import Store
from firstpull.workshop.storage import copies, migrations, open_store
from firstpull.workshop.storage.migrations import Migration
from tests.hardship.killing import kill_writers, record_in
from tests.workshop.storage.test_migrations import engine_of

Opener = Callable[[], Store]


def note(act: str, text: str = "x", job: str = "J1") -> Event:
    return new_event(job, "note", {"text": text}, by="sam", at="2026-04-11T09:00:00Z", act_id=act)


def in_a_child_that_dies(work: Callable[[], object]) -> None:
    """Run the work in a process of its own, which must end by SIGKILL."""
    child = os.fork()
    if child == 0:
        try:
            work()
        finally:
            os._exit(7)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the work went on where it should have been cut off"
    assert os.WTERMSIG(status) == signal.SIGKILL


def die(*_: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def test_fifteen_killed_writers_lose_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    *_, outcome = kill_writers(record_in(tmp_path), kills=15)
    assert outcome.acknowledged > 30, "the writers were killed before they wrote anything: a test of nothing"
    assert (outcome.missing, outcome.half, outcome.faults) == (0, 0, 0)
    assert outcome.stored >= outcome.acknowledged


def test_killed_writers_on_the_server_lose_nothing_either(address: str) -> None:
    *_, outcome = kill_writers(address, kills=5)
    assert outcome.acknowledged > 5
    assert (outcome.missing, outcome.half, outcome.faults) == (0, 0, 0)


def test_a_migration_that_is_cut_off_leaves_the_version_before_it(
    address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = migrations.MIGRATIONS
    engine = engine_of(address)
    with engine.begin() as link:
        migrations.migrate(link, up_to=1)
    engine.dispose()
    torn = Migration(second.number, second.purpose, second.statements, die)
    monkeypatch.setattr(migrations, "MIGRATIONS", (first, torn))
    in_a_child_that_dies(lambda: open_store(address))
    monkeypatch.undo()
    store = open_store(address)
    store.append([note("a", "found again")])
    assert [line.job for line in store.search("found")] == ["J1"]
    assert store.check().faults == ()
    store.close()


def test_a_restore_that_is_cut_off_leaves_the_old_record_whole(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = open_store(address)
    store.append([note(f"a{n}") for n in range(30)])
    store.backup(tmp_path / "day.backup")
    store.append([note("late", "after the backup")])
    before = store.read("J1")
    store.close()
    monkeypatch.setattr(copies, "rebuild_index", die)
    in_a_child_that_dies(lambda: open_store(address).restore(tmp_path / "day.backup"))
    monkeypatch.undo()
    again = open_store(address)
    assert again.read("J1") == before
    assert [line.job for line in again.search("after")] == ["J1"]
    assert again.check().faults == ()
    assert again.restore(tmp_path / "day.backup").events == 30
    assert len(again.read("J1")) == 30
    again.close()


def test_a_backup_that_is_cut_off_leaves_the_older_backup(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = open_store(tmp_path / "record.db")
    store.append([note("a")])
    store.backup(tmp_path / "day.backup")
    store.append([note("b")])
    store.close()
    monkeypatch.setattr(copies, "_seal", die)
    in_a_child_that_dies(lambda: open_store(tmp_path / "record.db").backup(tmp_path / "day.backup"))
    monkeypatch.undo()
    assert copies.read_backup(tmp_path / "day.backup").events == 1
    (torn,) = tmp_path.glob(".day.backup.*.part")
    os.utime(torn, (1, 1))
    again = open_store(tmp_path / "record.db")
    assert again.backup(tmp_path / "day.backup").events == 2
    assert list(tmp_path.glob(".day.backup.*")) == []
    again.close()


def test_an_erasure_that_is_cut_off_is_known_to_the_next_restore(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from firstpull.workshop.storage import people

    store = open_store(tmp_path / "record.db")
    person = store.put_person({"name": "Ada Brook"})
    store.backup(tmp_path / "day.backup")
    store.close()
    monkeypatch.setattr(people, "forget", die)
    in_a_child_that_dies(lambda: open_store(tmp_path / "record.db").erase_person(person, by="sam", at="2026-04-12"))
    monkeypatch.undo()
    again = open_store(tmp_path / "record.db")
    assert again.restore(tmp_path / "day.backup").forgotten == 1
    assert again.get_person(person) is None
    again.close()


def test_a_failure_in_the_middle_of_an_act_stores_none_of_it(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    from firstpull.workshop.storage import appending

    store = open_store(address)
    store.append([note("a")])

    def fail(connection: Connection, *_: object) -> None:
        raise StorageError("cut off here")

    monkeypatch.setattr(appending, "_settle", fail)
    with pytest.raises(StorageError, match="cut off here"):
        store.append([note("b"), note("b", job="J2")])
    monkeypatch.undo()
    assert [event.act_id for event in store.read("J1")] == ["a"]
    assert store.jobs()[0].last_seq == 1
    assert len(store.append([note("b"), note("b", job="J2")])) == 2
    store.close()
