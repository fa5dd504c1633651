"""Tables made in one go and tables made step by step are the same ones."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, create_engine, inspect, text
from sqlalchemy.engine import make_url

from firstpull.base.errors import StorageError
from firstpull.workshop.events import new_event
from firstpull.workshop.storage import open_store
from firstpull.workshop.storage.migrations import MIGRATIONS, NEWEST, migrate
from firstpull.workshop.storage.schema import metadata


def shape(engine: Engine) -> dict[str, Any]:
    """All that the database says of its tables."""
    found = inspect(engine)
    return {
        table: {
            "columns": [
                (one["name"], str(one["type"]), one["nullable"], getattr(one["type"], "collation", None))
                for one in found.get_columns(table)
            ],
            "key": found.get_pk_constraint(table)["constrained_columns"],
            "indexes": sorted((one["name"], tuple(one["column_names"])) for one in found.get_indexes(table)),
            "unique": sorted((one["name"], tuple(one["column_names"])) for one in found.get_unique_constraints(table)),
        }
        for table in sorted(found.get_table_names())
    }


def engine_of(address: str) -> Engine:
    if "://" in address:
        return create_engine(make_url(address).set(drivername="postgresql+psycopg"))
    return create_engine(f"sqlite:///{address}")


def test_a_fresh_schema_and_all_migrations_agree(address: str) -> None:
    engine = engine_of(address)
    metadata.create_all(engine)
    in_one_go = shape(engine)
    metadata.drop_all(engine)
    for _ in MIGRATIONS:
        with engine.begin() as link:
            migrate(link)
    assert shape(engine) == in_one_go
    engine.dispose()


def test_migrations_are_numbered_without_a_gap() -> None:
    assert [step.number for step in MIGRATIONS] == list(range(1, NEWEST + 1))


def test_a_record_of_the_first_tables_is_brought_up_to_date(address: str) -> None:
    engine = engine_of(address)
    with engine.begin() as link:
        migrate(link, up_to=1)
        link.execute(text("INSERT INTO jobs VALUES ('J1', 1, 'p-1', '', 0, '2026-04-11', '{}')"))
        link.execute(text("INSERT INTO people VALUES ('p-1', :fields)"), {"fields": json.dumps({"name": "Ada Brook"})})
        link.execute(
            text("INSERT INTO events VALUES ('J1', 1, 'a', 0, 0, 'opened', 1, :at, 'sam', :body, :crc)"),
            {"at": "2026-04-11T09:00:00.000Z", "body": '{"complaint":["hunts"],"person":"p-1"}', "crc": 0},
        )
        link.execute(text("UPDATE events SET crc = :crc"), {"crc": 3587548371})
    engine.dispose()
    store = open_store(address)
    assert [line.complaint for line in store.search("hunts brook")] == [("hunts",)]
    assert store.read("J1")[0].body["complaint"] == ["hunts"]
    store.close()


def test_a_record_of_a_newer_program_is_refused_and_left_alone(address: str) -> None:
    open_store(address).close()
    engine = engine_of(address)
    with engine.begin() as link:
        link.execute(text("UPDATE about SET value = '99' WHERE key = 'version'"))
    before = shape(engine)
    with pytest.raises(StorageError, match="version 99"):
        open_store(address)
    assert shape(engine) == before
    engine.dispose()


def test_somebody_elses_tables_are_refused(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "x.db") as other:
        other.execute("CREATE TABLE events (id INTEGER)")
    with pytest.raises(StorageError, match="not this program's"):
        open_store(tmp_path / "x.db")


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda path: path.write_bytes(b"a letter to nobody " * 200), "not a record"),
        (lambda path: path.mkdir(), "cannot be opened"),
        (lambda path: path.touch(), "the file is empty"),
    ],
)
def test_what_is_no_record_is_refused_with_its_path(tmp_path: Path, make: Any, said: str) -> None:
    path = tmp_path / "x.db"
    make(path)
    with pytest.raises(StorageError, match=said) as caught:
        open_store(path)
    assert str(path) in str(caught.value)


def test_a_missing_folder_and_an_unknown_database_are_named(tmp_path: Path) -> None:
    with pytest.raises(StorageError, match="no folder"):
        open_store(tmp_path / "none" / "x.db")
    with pytest.raises(StorageError, match="not known"):
        open_store("elsewhere://host/name")


def test_a_folder_with_odd_signs_in_its_name_is_a_folder_like_any_other(tmp_path: Path) -> None:
    folder = tmp_path / "Ada's #1 shop, 100% für alle?mode=ro;x"
    folder.mkdir()
    store = open_store(folder / "rec ord.db")
    store.append([new_event("J1", "note", {"text": "x"}, by="sam", at="2026-04-11T09:00:00Z", act_id="a")])
    store.backup(folder / "day #1?.backup")
    assert store.restore(folder / "day #1?.backup").events == 1
    assert store.salvage(folder / "rec ord.db").events == 0
    store.close()
    assert sorted(path.name for path in folder.iterdir()) == ["day #1?.backup", "rec ord.db"]


def test_opening_an_up_to_date_record_writes_nothing(tmp_path: Path) -> None:
    store = open_store(tmp_path / "x.db")
    store.append([new_event("J1", "note", {"text": "x"}, by="sam", at="2026-04-11T09:00:00Z", act_id="a")])
    store.close()
    before = (tmp_path / "x.db").read_bytes()
    again = open_store(tmp_path / "x.db")
    assert len(again.read("J1")) == 1
    again.close()
    assert (tmp_path / "x.db").read_bytes() == before
