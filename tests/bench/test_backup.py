"""The record as files."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.backup import back_up, check, erase, export, people, restore, salvage, take_over
from firstpull.bench.find import session_of
from firstpull.bench.shop import Shop
from firstpull.bench.worldroom import WorldRoom
from firstpull.workshop.storage import open_store
from tests.bench.coil_job import gone_home, mended, put, taken_in


def test_a_restored_record_is_the_one_that_was_backed_up_and_is_reckoned_anew(shop: Shop, tmp_path: Path) -> None:
    job = mended(shop)
    session_of(shop, shop.record(job)).belief()
    before = shop.record(job)
    made = back_up(shop, tmp_path / "copy.sqlite")
    assert made.jobs == 1
    put(shop, job, {"check": "will-not-start", "reading": "still"})
    other = taken_in(shop)
    assert restore(shop, tmp_path / "copy.sqlite").digest == made.digest
    assert shop.record(job) == before
    assert len(session_of(shop, shop.record(job)).acts) == len(before.readings) + len(before.repairs) + 2
    with pytest.raises(FirstpullError, match="no job"):
        shop.record(other)


def test_lines_carry_a_job_to_another_workshop(shop: Shop, room: WorldRoom, tmp_path: Path) -> None:
    job = gone_home(shop)
    export(shop, tmp_path / "all.jsonl")
    there = Shop(open_store(tmp_path / "other.sqlite"), room)
    added = take_over(there, tmp_path / "all.jsonl")
    assert added == shop.record(job).last_seq
    assert there.record(job) == shop.record(job)
    assert take_over(there, tmp_path / "all.jsonl") == 0
    there.store.close()


def test_without_names_nothing_of_the_person_leaves_the_shop(shop: Shop, tmp_path: Path) -> None:
    gone_home(shop)
    export(shop, tmp_path / "facts.jsonl", names=False)
    export(shop, tmp_path / "jobs.csv", table=True)
    for file in ("facts.jsonl", "jobs.csv"):
        text = (tmp_path / file).read_text(encoding="utf-8")
        for word in ("Ada", "Fenwright", "0555", "Wren", "won't start"):
            assert word not in text
        assert "walk-mower-ohv" in text
    assert "renew-coil" in (tmp_path / "facts.jsonl").read_text(encoding="utf-8")


def test_a_forgotten_person_is_gone_from_record_search_and_older_backups(shop: Shop, tmp_path: Path) -> None:
    job = gone_home(shop)
    back_up(shop, tmp_path / "old.sqlite")
    ((person, fields),) = people(shop, "ada")
    assert fields["name"] == "Ada Fenwright"
    assert erase(shop, person, by="Wren") == (job,)
    assert people(shop, "ada") == ()
    assert shop.record(job).words == ()
    assert len(shop.record(job).repairs) == 1
    restore(shop, tmp_path / "old.sqlite")
    assert people(shop, "ada") == ()


def test_nobody_is_forgotten_under_an_id_that_was_never_here(shop: Shop) -> None:
    taken_in(shop)
    with pytest.raises(FirstpullError, match="nobody"):
        erase(shop, "p-0000", by="Wren")


def test_a_damaged_backup_is_refused_and_the_record_stays(shop: Shop, tmp_path: Path) -> None:
    job = mended(shop)
    before = shop.record(job)
    back_up(shop, tmp_path / "copy.sqlite")
    data = bytearray((tmp_path / "copy.sqlite").read_bytes())
    data[len(data) // 2 :] = bytes(len(data) - len(data) // 2)
    (tmp_path / "bad.sqlite").write_bytes(data)
    for file in ("bad.sqlite", "missing.sqlite"):
        with pytest.raises(FirstpullError):
            restore(shop, tmp_path / file)
    assert shop.record(job) == before


def test_what_can_be_read_of_a_record_is_brought_over(shop: Shop, room: WorldRoom, tmp_path: Path) -> None:
    job = mended(shop)
    back_up(shop, tmp_path / "copy.sqlite")
    there = Shop(open_store(tmp_path / "new.sqlite"), room)
    assert salvage(there, tmp_path / "copy.sqlite").events == shop.record(job).last_seq
    assert there.record(job).repairs == shop.record(job).repairs
    there.store.close()


def test_a_check_reads_everything_and_finds_a_sound_record_sound(shop: Shop) -> None:
    job = gone_home(shop)
    health = check(shop)
    assert health.events == shop.record(job).last_seq
    assert health.faults == ()
