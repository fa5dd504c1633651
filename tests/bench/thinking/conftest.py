"""A job in a workshop, and workers that were started once for all tests of this folder."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.bench.worldroom import WorldRoom


@pytest.fixture
def job(shop: Shop) -> str:
    """A walk-behind mower without a spark."""
    said = Counter("Ada Fenwright", "0555 0101", "won't start", "80", "walk-mower-ohv")
    job = take_in(shop, said, act_id="in", by="Wren")
    enter(shop, job, {"check": "spark-at-tester", "reading": "dark"}, act_id="a", based_on=1, by="Wren")
    return job


@pytest.fixture(scope="package")
def running(room: WorldRoom) -> Iterator[Pool]:
    """Two workers."""
    pool = Pool(room.book)
    pool.start()
    yield pool
    pool.close()
