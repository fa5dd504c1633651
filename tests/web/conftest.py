"""A workshop in a temporary folder, and a client that talks to it without a browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.wiring import open_shop
from firstpull.bench.worldroom import WorldRoom
from firstpull.web.app import make_app

ORIGIN = {"origin": "http://testserver"}


@pytest.fixture
def shop(tmp_path: Path, room: WorldRoom) -> Iterator[Shop]:
    """An empty workshop that shares the populations of the whole test run."""
    found = open_shop(tmp_path)
    found.room = room
    yield found
    found.store.close()


@pytest.fixture
def client(shop: Shop) -> Iterator[TestClient]:
    """A client of that workshop that sends what a browser sends and stays on the page it gets."""
    with TestClient(make_app(shop), headers=ORIGIN, follow_redirects=False) as found:
        found.headers["x-csrf"] = bench_token(found)
        yield found


def bench_token(client: TestClient) -> str:
    """The token that the forms of the bench screen carry."""
    return str(cast(FastAPI, client.app).state.gate.seal.form_token("here"))


@pytest.fixture
def job(shop: Shop) -> str:
    """A mower without a spark, just taken in."""
    said = Counter("Ada Fenwright", "0555 0101", "no spark, I think", "90", "walk-mower-ohv")
    return take_in(shop, said, act_id="in-1", by="Wren")


@pytest.fixture(scope="module")
def one_for_all(tmp_path_factory: pytest.TempPathFactory, room: WorldRoom) -> Iterator[tuple[TestClient, Shop, str]]:
    """A client, its workshop and a job that many tests may share because none of them changes it."""
    shop = open_shop(tmp_path_factory.mktemp("shared"))
    shop.room = room
    said = Counter("Ada Fenwright", "0555 0101", "no spark, I think", "90", "walk-mower-ohv")
    job = take_in(shop, said, act_id="in-1", by="Wren")
    with TestClient(make_app(shop), headers=ORIGIN, follow_redirects=False) as client:
        client.headers["x-csrf"] = bench_token(client)
        yield client, shop, job
    shop.store.close()
