"""The tag and the receipt."""

from __future__ import annotations

from firstpull.bench.ourselves import keep_charges, keep_shop_words
from firstpull.bench.paperwork.counter import danger, link, receipt, tag
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.release import return_unmended
from firstpull.bench.shop import Shop
from tests.bench.coil_job import FOUND, how, put, taken_in


def test_a_tag_warns_of_an_engine_that_cannot_be_stopped(shop: Shop) -> None:
    job = taken_in(shop)
    assert tag(job_file(shop, job)).danger is None
    put(shop, job, *FOUND[2:3])
    assert "cannot be stopped" in (danger(job_file(shop, job)) or "")


def test_a_tag_names_what_was_found_unsafe(shop: Shop) -> None:
    job = taken_in(shop)
    return_unmended(shop, job, "unsafe", unsafe=["The guard is cracked."], **how(shop, job))
    assert tag(job_file(shop, job)).danger == "The guard is cracked."


def test_a_tag_has_a_square_code_only_where_the_shop_s_pages_are_known(shop: Shop) -> None:
    job = taken_in(shop)
    assert link(job_file(shop, job)) is None
    keep_shop_words(shop, {"address": "http://127.0.0.1:8765/"})
    assert link(job_file(shop, job)) == f"http://127.0.0.1:8765/job/{job}"


def test_a_receipt_tells_the_fee_and_the_price_of_saying_no(shop: Shop) -> None:
    keep_charges(shop, {"find_fee": "30", "tax": "0.1", "reassembly_fee": "20", "fee_credited": False})
    facts = {f.label: f.value for f in receipt(job_file(shop, taken_in(shop))).agreed}
    assert facts["Finding it costs"] == "€33.00"
    assert facts["If it is declined"] == "€22.00 for putting it back together"
    assert facts["Ask before going over"] == "€80.00"
    assert facts["Old parts back"] is facts["Promised"] is None


def test_everything_that_is_kept_of_a_person_is_on_the_receipt(shop: Shop) -> None:
    job = taken_in(shop)
    fields = {"name": "Ada", "contact": "0555", "second_number": "0556", "address": "12 Weir Lane"}
    shop.store.put_person(fields, shop.record(job).person)
    owner = {f.label: f.value for f in receipt(job_file(shop, job)).owner}
    assert set(fields.values()) <= set(owner.values())
    assert owner["Second number"] == "0556"
