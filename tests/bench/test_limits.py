"""Whether a sum goes beyond what was agreed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from firstpull.bench.approving import approve
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.limits import over_limit
from firstpull.bench.shop import Shop
from firstpull.bench.wiring import open_shop
from firstpull.bench.worldroom import WorldRoom


@pytest.fixture
def shop(tmp_path: Path, room: WorldRoom) -> Iterator[Shop]:
    found = open_shop(tmp_path)
    found.room = room
    yield found
    found.store.close()


def test_a_sum_is_measured_by_the_counter_first_and_then_by_the_last_yes(shop: Shop) -> None:
    job = take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in", by="Wren")
    said = {text: over_limit(shop, job, text) for text in ("90", "90,00", "90.01", "200", "", "much", "-1")}
    assert said == {"90": False, "90,00": False, "90.01": True, "200": True, "": False, "much": False, "-1": False}
    approve(shop, job, "mend", "Ada Fenwright", "150", "in writing", act_id="a", based_on=1, by="Wren")
    assert not over_limit(shop, job, "150")
    assert over_limit(shop, job, "151")
