"""Papers of the two doors."""

from __future__ import annotations

import pytest

from firstpull.base.errors import RefusedError
from firstpull.bench.ourselves import keep_charges
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.leaving import STATEMENT, fuel_left, hand_over, returned, warranty
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.picturing import keep_picture, mark_for_owner
from firstpull.bench.release import door, release_working, return_unmended
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, gone_home, how, mended, prove, put, taken_in
from tests.bench.test_picture_facts import made


def test_causes_are_those_that_were_mended_with_how_sure_that_is(shop: Shop) -> None:
    sheet = hand_over(job_file(shop, gone_home(shop)))
    cured = {shop.room.book.faults[f].name for f in shop.room.book.repairs["renew-coil"].cures
             if f in shop.room.book.faults}
    assert sheet.wrong
    assert all(any(words.startswith(name) for name in cured) for words in sheet.wrong)
    assert all(" in 10)" in w or "sure)" in w or "(" not in w.split(".")[0] for w in sheet.wrong)


def test_each_release_proof_stands_on_the_sheet_as_it_was_shown(shop: Shop) -> None:
    job = gone_home(shop)
    sheet = hand_over(job_file(shop, job))
    assert [p.what for p in sheet.proofs] == [p.name for p in door(shop, job).proofs]
    assert {p.verdict for p in sheet.proofs} == {"proved"}


def test_where_nothing_was_mended_the_sheet_says_so(shop: Shop) -> None:
    job = taken_in(shop)
    prove(shop, job)
    release_working(shop, job, {}, **how(shop, job))
    sheet = hand_over(job_file(shop, job))
    assert sheet.headline == "Released as working; nothing was mended."
    assert sheet.wrong == ()
    assert sheet.renewed == ()
    assert sheet.fuel is None


def test_each_door_has_its_own_paper(shop: Shop) -> None:
    job = mended(shop)
    with pytest.raises(RefusedError):
        hand_over(job_file(shop, job))
    return_unmended(shop, job, "Declined.", **how(shop, job))
    with pytest.raises(RefusedError):
        hand_over(job_file(shop, job))
    assert returned(job_file(shop, job)).reason == "Declined."
    with pytest.raises(RefusedError):
        returned(job_file(shop, gone_home(shop)))


def test_what_is_off_or_unsafe_goes_into_writing_and_is_signed_for(shop: Shop) -> None:
    job = found(shop)
    return_unmended(shop, job, "Declined.", **how(shop, job))
    sheet = returned(job_file(shop, job))
    assert any("Stop lead" in m for m in sheet.missing)
    lead = shop.room.book.access["stop-lead"]
    assert any(lead.name in u.say and u.because == lead.forbids for u in sheet.unsafe)
    assert sheet.statement == STATEMENT


def test_an_engine_that_cannot_be_stopped_says_so_before_anything_else(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"access": "stop-lead", "state": "off"})
    return_unmended(shop, job, "Declined.", **how(shop, job))
    assert "cannot be stopped" in returned(job_file(shop, job)).unsafe[0].say


def test_a_sound_machine_that_goes_back_is_signed_for_as_nothing_unsafe(shop: Shop) -> None:
    job = taken_in(shop)
    return_unmended(shop, job, "Owner changed her mind.", **how(shop, job))
    sheet = returned(job_file(shop, job))
    assert sheet.unsafe == ()
    assert sheet.statement is None
    assert sheet.lead is None


def test_putting_back_is_charged_only_where_something_was_taken_apart(shop: Shop) -> None:
    keep_charges(shop, {"reassembly_fee": "12"})
    whole, apart = taken_in(shop), found(shop)
    for job in (whole, apart):
        return_unmended(shop, job, "Declined.", **how(shop, job))
    assert returned(job_file(shop, whole)).reassembly == "not charged"
    assert returned(job_file(shop, apart)).reassembly == "€12.00, in the sum above"


def test_a_drained_tank_is_said_where_nobody_said_more(shop: Shop) -> None:
    job = taken_in(shop)
    assert fuel_left(job_file(shop, job)) is None
    put(shop, job, {"access": "fuel", "state": "off"})
    assert fuel_left(job_file(shop, job)) == "Drained, none left in it"


def test_no_promise_is_made_on_the_customer_s_own_part(shop: Shop) -> None:
    job = mended(shop)
    for state in ("supplied-by-customer", "fitted"):
        part_step(shop, job, state, PartSaid("spark plug"), **how(shop, job))
    assert "No promise on spark plug: the customer brought it." in warranty(job_file(shop, job))


def test_a_picture_that_was_marked_goes_home_with_the_machine_and_no_other(shop: Shop) -> None:
    job = gone_home(shop)
    keep_picture(shop, job, made("JPEG"), "the dead coil", act_id="p1", based_on=1, by="Wren")
    keep_picture(shop, job, made("JPEG"), "", act_id="p2", based_on=1, by="Wren")
    assert hand_over(job_file(shop, job)).pictures == ()
    mark_for_owner(shop, job, "p1", True, act_id="m1", based_on=1, by="Wren")
    (one,) = hand_over(job_file(shop, job)).pictures
    assert one.shows.startswith("the dead coil, ")
    mark_for_owner(shop, job, "p2", True, act_id="m2", based_on=1, by="Wren")
    assert hand_over(job_file(shop, job)).pictures[1].shows.startswith("The machine on the bench, ")
