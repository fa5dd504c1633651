"""What only a file of our own can promise."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest

from firstpull.base.errors import StorageError
from firstpull.workshop.events import new_event
from firstpull.workshop.storage import open_store, sqlite


def test_what_was_erased_is_in_no_byte_of_the_file_and_its_log(tmp_path: Path) -> None:
    store = open_store(tmp_path / "record.db")
    person = store.put_person({"name": "Adelheid Brookmeadow"})
    body = {"person": person, "words": "Brookmeadow's mower is dead"}
    store.append([new_event("J1", "opened", body, by="sam", at="2026-04-11T09:00:00Z", act_id="a")])
    kept = {path.name: path.read_bytes().lower() for path in tmp_path.iterdir()}
    assert any(b"brookmeadow" in data for data in kept.values())
    store.erase_person(person, by="sam", at="2026-04-12T09:00:00Z")
    for path in tmp_path.iterdir():
        assert b"brookmeadow" not in path.read_bytes().lower(), path.name
    store.close()


def test_an_acknowledged_act_is_flushed_and_readers_never_wait_for_writers(tmp_path: Path) -> None:
    store = open_store(tmp_path / "record.db")
    store.append([new_event("J1", "note", {"text": "x"}, by="sam", at="2026-04-11T09:00:00Z", act_id="a")])
    other = sqlite3.connect(tmp_path / "record.db", isolation_level=None)
    assert other.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    other.execute("BEGIN IMMEDIATE")
    assert len(store.read("J1")) == 1
    other.execute("ROLLBACK")
    other.close()
    with sqlite.sqlite_door(tmp_path / "record.db").writer.connect() as link:
        assert link.exec_driver_sql("PRAGMA synchronous").scalar() == 2
    store.close()


def test_a_program_that_never_lets_go_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite, "BUSY_MS", 100)
    store = open_store(tmp_path / "record.db")
    other = sqlite3.connect(tmp_path / "record.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    event = new_event("J1", "note", {"text": "x"}, by="sam", at="2026-04-11T09:00:00Z", act_id="a")
    with pytest.raises(StorageError, match="another program holds the file"):
        store.append([event])
    other.execute("ROLLBACK")
    other.close()
    assert len(store.append([event])) == 1
    store.close()


def test_two_updates_at_once_lose_neither(tmp_path: Path) -> None:
    stores = [open_store(tmp_path / "record.db") for _ in range(2)]
    given: list[int] = []

    def take(number: int) -> None:
        given.extend(stores[number].next_number() for _ in range(50))

    threads = [threading.Thread(target=take, args=(number,)) for number in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(given) == list(range(1, 101))
    for store in stores:
        store.close()
