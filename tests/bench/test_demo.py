"""The demonstration: filled once, marked as invented, and never mixed with a real record."""

from __future__ import annotations

import tomllib
from pathlib import Path

from firstpull.bench.demo import DATA, MARK, open_demo
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.wiring import open_shop


def test_a_new_folder_is_filled_once_and_marked(tmp_path: Path) -> None:
    shop, place = open_demo(tmp_path)
    assert shop.demo
    assert (place / MARK).is_file()
    first = [line.number for line in shop.store.jobs()]
    assert len(first) == len(tomllib.loads(DATA.read_text(encoding="utf-8"))["job"])
    shop.store.close()
    again, _ = open_demo(tmp_path)
    assert [line.number for line in again.store.jobs()] == first
    again.store.close()


def test_every_demonstration_job_can_be_reckoned(tmp_path: Path) -> None:
    shop, _ = open_demo(tmp_path)
    for line in shop.store.jobs():
        live = shop.live(shop.record(line.job))
        assert live is not None
        assert live.notices == ()
    shop.store.close()


def test_a_real_record_in_that_folder_is_left_alone(tmp_path: Path) -> None:
    shop = open_shop(tmp_path)
    take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "80"), act_id="a", by="Wren")
    shop.store.close()
    again, place = open_demo(tmp_path)
    assert len(again.store.jobs()) == 1
    assert not (place / MARK).exists()
    again.store.close()
