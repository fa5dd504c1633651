"""A job as paper needs it."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.shop import Shop
from tests.bench.coil_job import put, taken_in


def test_the_head_names_shop_job_machine_complaint_owner_day_and_hand(shop: Shop) -> None:
    head = job_file(shop, taken_in(shop)).head("2026-04-11T09:00:00Z")
    assert (head.job, head.owner, head.complaint, head.at_bench) == ("1", "Ada Fenwright", "won't start", "Wren")
    assert head.date == "April 11, 2026"
    assert head.machine == shop.room.book.machines["walk-mower-ohv"].name


def test_an_unknown_kind_is_said_to_be_unknown(shop: Shop) -> None:
    file = job_file(shop, taken_in(shop, machine=""))
    assert "not recorded" in file.kind
    assert file.session is None
    assert not file.drained


def test_a_forgotten_owner_leaves_the_complaint_by_its_name(shop: Shop) -> None:
    job = taken_in(shop)
    shop.store.erase_person(shop.record(job).person, by="Wren", at="2026-05-01T00:00:00Z")
    file = job_file(shop, job)
    assert file.owner_name is None
    assert file.addressed == ()
    assert file.complaint == shop.room.book.complaints["will-not-start"].name


def test_a_drained_tank_is_known_from_what_was_done(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"access": "fuel", "state": "off"})
    assert job_file(shop, job).drained


def test_the_last_word_at_the_counter_counts_and_silence_is_none(shop: Shop) -> None:
    job = taken_in(shop)
    assert job_file(shop, job).said("old_parts_back") is None
    for back in (True, False):
        body = {"old_parts_back": back}
        shop.do(job, "opened", body, act_id=f"back-{back}", based_on=shop.record(job).last_seq, by="Wren")
    assert job_file(shop, job).said("old_parts_back") is False


def test_a_moment_that_cannot_be_read_is_shown_as_it_is(shop: Shop) -> None:
    file = job_file(shop, taken_in(shop))
    assert file.when("after lunch") == "after lunch"
    assert file.when("") is None


def test_there_must_be_such_a_job(shop: Shop) -> None:
    with pytest.raises(InputError):
        job_file(shop, "77")
