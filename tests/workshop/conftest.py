"""Stores to test against: a fresh SQLite file, and a fresh database on a real PostgreSQL server."""

from __future__ import annotations

import os
import secrets
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

from firstpull.workshop.port import Store
from firstpull.workshop.storage import open_store
from tests.workshop.storage.postgres_server import ADDRESS, NoServer, own_server

Opener = Callable[[], Store]


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    """The administrative address of a server that may be filled with databases."""
    given = os.environ.get(ADDRESS)
    if given:
        yield given
        return
    try:
        with own_server() as server:
            yield server.url
    except NoServer as error:
        if os.environ.get("CI") == "true":
            pytest.fail(str(error))
        pytest.skip(str(error))


@pytest.fixture(params=["sqlite", "postgres"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of an empty record, once in each database."""
    if request.param == "sqlite":
        (tmp_path / "shop").mkdir()
        yield str(tmp_path / "shop" / "record.db")
        return
    yield from fresh_database(request.getfixturevalue("postgres_url"))


def fresh_database(server_url: str) -> Iterator[str]:
    """A database of its own on the server, dropped afterwards."""
    name = f"t{secrets.token_hex(6)}"
    server = create_engine(make_url(server_url).set(drivername="postgresql+psycopg"), isolation_level="AUTOCOMMIT")
    with server.connect() as link:
        link.execute(text(f"CREATE DATABASE {name}"))
    yield make_url(server_url).set(database=name).render_as_string(hide_password=False)
    with server.connect() as link:
        link.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    server.dispose()


@pytest.fixture
def opened(address: str) -> Iterator[Opener]:
    """Opens the record again and again, each time as a new program would; closes them all at the end."""
    stores: list[Store] = []

    def again() -> Store:
        stores.append(open_store(address))
        return stores[-1]

    yield again
    for store in stores:
        store.close()


@pytest.fixture
def store(opened: Opener) -> Store:
    """An empty store."""
    return opened()
