"""A workshop of its own for a test: an empty record, the shipped handbook, a clock that stands still."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.worldroom import WorldRoom
from firstpull.workshop.storage import open_store

NOON = datetime(2026, 4, 11, 12, 0, tzinfo=UTC)


@pytest.fixture
def shop(tmp_path: Path, room: WorldRoom) -> Iterator[Shop]:
    """An empty workshop."""
    store = open_store(tmp_path / "record.sqlite")
    yield Shop(store, room, clock=lambda: NOON)
    store.close()


@pytest.fixture
def mower_job(shop: Shop) -> str:
    """A walk-behind mower that will not start, just taken in."""
    said = Counter("Ada Fenwright", "0555 0101", "won't start", "80", "walk-mower-ohv")
    return take_in(shop, said, act_id="in", by="Wren")
