"""A copy a day while the workshop is open."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.daily import KEPT, PATTERN, back_up_today, keep_copies
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.wiring import open_shop


def test_one_copy_a_day_and_the_newest_fourteen_kept(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "data")
    take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "80"), act_id="a", by="Wren")
    copies = tmp_path / "copies"
    first = datetime(2026, 4, 1, 9, tzinfo=UTC)
    for day in range(KEPT + 3):
        shop.clock = lambda day=day: first + timedelta(days=day)  # type: ignore[misc]  # bound at once
        assert back_up_today(shop, copies) is not None
        assert back_up_today(shop, copies) is None
    assert len(list(copies.glob(PATTERN))) == KEPT
    again = open_shop(tmp_path / "other")
    again.store.restore(max(copies.glob(PATTERN)))
    assert len(again.store.jobs()) == 1


def test_a_folder_that_cannot_be_written_is_said_and_leaves_the_rest(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "data")
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    with pytest.raises((FirstpullError, OSError)):
        back_up_today(shop, tmp_path / "file")


def test_the_copy_is_made_in_the_background(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "data")
    stop = keep_copies(shop, tmp_path / "copies", every=0.05)
    until = time.monotonic() + 20
    while not list((tmp_path / "copies").glob(PATTERN)) and time.monotonic() < until:
        time.sleep(0.05)
    stop.set()
    assert len(list((tmp_path / "copies").glob(PATTERN))) == 1
