"""What is owed, and what is not."""

from __future__ import annotations

import pytest

from firstpull.base.money import Money
from firstpull.bench.approving import approve
from firstpull.bench.billing import agreed_on, bill_of, book_minutes, by_clock, done_on, ordered_sum, show_bill
from firstpull.bench.clocking import set_clock
from firstpull.bench.ourselves import keep_charges
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.release import return_unmended
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, how, mended, put, taken_in


def euros(amount: str) -> Money:
    return Money.of(amount, "EUR")


def test_a_bill_adds_up_line_by_line(shop: Shop) -> None:
    found_bill = show_bill(shop, mended(shop))
    amounts = [float((x.amount or "").replace("€", "")) for x in found_bill.lines]
    assert sum(amounts) == pytest.approx(float((found_bill.total or "").replace("€", "")))
    assert found_bill.lines[-1].running == found_bill.net
    assert found_bill.charged == found_bill.total
    assert found_bill.above is None


def test_without_a_clock_the_handbook_s_minutes_are_billed_and_named_as_such(shop: Shop) -> None:
    job = mended(shop)
    record = shop.record(job)
    assert not by_clock(record)
    assert done_on(shop, record).mending_minutes == book_minutes(shop, record) > 14
    labour = next(x for x in show_bill(shop, job).lines if x.name == "mending")
    assert labour.detail.endswith("by the handbook")


def test_where_the_clock_ran_its_minutes_are_billed_and_no_others(shop: Shop) -> None:
    job = found(shop)
    approve(shop, job, "mend", "Ada", "140", "by telephone", **how(shop, job))
    start, end = "2026-04-11T12:00:00Z", "2026-04-11T12:42:00Z"
    for state, at in (("started", start), ("paused", end)):
        shop.do(job, "clock", {"state": state, "when": at}, **how(shop, job))
    put(shop, job, {"repair": "renew-coil"})
    assert done_on(shop, shop.record(job)).mending_minutes == pytest.approx(42.0)
    labour = next(x for x in show_bill(shop, job).lines if x.name == "mending")
    assert (labour.amount, labour.detail) == ("€42.00", "42 minutes by the clock")


def test_waiting_is_no_labour(shop: Shop) -> None:
    job = mended(shop)
    for state, at in (("started", "2026-04-11T12:00:00Z"), ("paused", "2026-04-11T14:00:00Z")):
        shop.do(job, "clock", {"state": state, "when": at, "waiting": True}, **how(shop, job))
    assert not by_clock(shop.record(job))


def test_a_repair_of_the_owner_s_own_is_not_billed(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"repair": "renew-plug", "by": "owner"})
    assert not done_on(shop, shop.record(job)).mended
    assert [x.name for x in show_bill(shop, job).lines] == []


def test_the_customer_s_own_part_costs_nothing_and_is_named(shop: Shop) -> None:
    job = mended(shop)
    part_step(shop, job, "supplied-by-customer", PartSaid("spark plug"), **how(shop, job))
    part_step(shop, job, "fitted", PartSaid("spark plug", price="9"), **how(shop, job))
    line = next(x for x in show_bill(shop, job).lines if x.name == "spark plug")
    assert (line.amount, line.detail) == ("€0.00", "the customer's own")


def test_a_part_without_a_price_and_a_repair_without_its_part_are_named_before_the_bill_goes_out(shop: Shop) -> None:
    job = found(shop)
    put(shop, job, {"repair": "renew-coil"})
    assert any("needs coil" in w for w in show_bill(shop, job).warnings)
    part_step(shop, job, "fitted", PartSaid("coil"), **how(shop, job))
    assert show_bill(shop, job).warnings == ("coil: no price was written down, so it is billed at nothing.",)


def test_a_cost_is_marked_up_where_no_price_was_said(shop: Shop) -> None:
    keep_charges(shop, {"mark_up": "0.5"})
    job = found(shop)
    part_step(shop, job, "ordered", PartSaid("coil", cost="20", quantity=2), **how(shop, job))
    assert ordered_sum(shop, shop.record(job)) == euros("60")


def test_a_declined_machine_pays_for_finding_and_for_putting_back_what_was_taken_apart(shop: Shop) -> None:
    keep_charges(shop, {"reassembly_fee": "12"})
    job = found(shop)
    approve(shop, job, "mend", "Ada", "", "by telephone", yes=False, **how(shop, job))
    return_unmended(shop, job, "Declined.", **how(shop, job))
    owed = show_bill(shop, job)
    assert [x.name for x in owed.lines] == ["finding the fault", "putting it back together"]
    assert owed.charged == owed.total == "€37.00"


def test_after_a_no_nothing_beyond_what_was_told_at_the_counter_is_charged(shop: Shop) -> None:
    job = mended(shop, limit="80")
    approve(shop, job, "mend", "Ada", "", "by telephone", yes=False, **how(shop, job))
    assert bill_of(shop, shop.record(job)).may_charge == euros("25")
    approve(shop, job, "find", "Ada", "", "by telephone", yes=False, **how(shop, job))
    assert agreed_on(shop.record(job), euros("25")).limit is None
    assert bill_of(shop, shop.record(job)).may_charge == euros("0")


def test_tax_and_minimum_stand_on_the_bill(shop: Shop) -> None:
    keep_charges(shop, {"tax": "0.19", "minimum": "100"})
    job = mended(shop)
    owed = show_bill(shop, job)
    assert owed.net == "€100.00"
    assert (owed.tax_words, owed.tax, owed.total) == ("Tax, 19 in 100", "€19.00", "€119.00")
    assert "minimum charge" in [x.name for x in owed.lines]


def test_the_clock_is_one_tap_and_counts_for_whoever_tapped(shop: Shop) -> None:
    job = found(shop)
    done = set_clock(shop, job, "started", **how(shop, job))
    assert [by for by, _ in done.record.worked.running] == ["Wren"]
