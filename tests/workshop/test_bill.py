"""The bill from what was done, and never above what was agreed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from firstpull.workshop.approvals import Agreed, agreed
from firstpull.workshop.bill import BilledPart, WorkDone, bill, work_done
from firstpull.workshop.events import Event, from_line
from firstpull.workshop.fold import fold
from tests.workshop.shop_prices import eur, shop


def approval(seq: int, to: str, yes: bool, sum: str | None) -> Event:
    body = {"to": to, "yes": yes, **({} if sum is None else {"sum": {"amount": sum, "currency": "EUR"}})}
    return Event("J1", seq, f"a{seq}", 0, "approval", 1, "2026-04-11T09:00:00.000Z", "sam", body)


MENDED = WorkDone(found=True, mended=True, mending_minutes=20, parts=(BilledPart("coil", eur("55.00")),))


@pytest.mark.parametrize(
    ("limit", "may", "above"),
    [("90.00", "90.00", "0.00"), ("60.00", "60.00", "30.00"), (None, "0.00", "90.00")],
)
def test_nothing_above_the_agreed_sum_is_charged(limit: str | None, may: str, above: str) -> None:
    yes = Agreed() if limit is None else agreed([approval(1, "mend", True, limit)])
    found = bill(MENDED, shop(), yes)
    assert found.total.due.usual == eur("90.00")  # (20 + 55) x 1.2
    assert (found.may_charge, found.above_limit, found.needs_a_yes) == (eur(may), eur(above), above != "0.00")


def test_a_machine_that_goes_back_unmended_pays_for_putting_it_back_where_the_shop_charges_for_it() -> None:
    back = WorkDone(found=True, mended=False, put_back=True)
    fee = replace(shop(), reassembly_fee=eur("10.00"))
    yes = agreed([approval(1, "find", True, "90.00")])
    assert bill(back, fee, yes).total.net.usual - bill(back, shop(), yes).total.net.usual == eur("10.00")
    assert bill(replace(back, put_back=False), fee, yes) == bill(back, shop(), yes)


def test_a_new_yes_lifts_the_limit_and_a_no_takes_it_away() -> None:
    first = [approval(1, "find", True, "36.00"), approval(2, "mend", True, "60.00")]
    assert bill(MENDED, shop(), agreed([*first, approval(3, "mend", True, "100.00")])).above_limit == eur("0.00")
    declined = agreed([*first, approval(3, "mend", False, None)])
    assert (declined.to_mend, declined.limit) == (False, eur("36.00"))


def test_found_and_declined_is_the_fee_alone() -> None:
    found = bill(WorkDone(found=True, mended=False), shop(), agreed([approval(1, "find", True, "36.00")]))
    assert (found.may_charge, found.needs_a_yes, len(found.lines)) == (eur("36.00"), False, 1)


def test_a_part_of_the_customers_own_costs_nothing() -> None:
    done = WorkDone(True, True, 20, (BilledPart("coil", eur("55.00"), customers_own=True),))
    assert bill(done, shop(), agreed([approval(1, "mend", True, "99.00")])).total.due.usual == eur("24.00")


def test_a_deposit_is_taken_off_what_is_open() -> None:
    done = WorkDone(True, True, 20, (), (), eur("10.00"))
    assert bill(done, shop(), agreed([approval(1, "mend", True, "99.00")])).open == eur("14.00")


def test_the_record_of_a_whole_job_gives_its_bill() -> None:
    path = Path(__file__).parent / "events_v1" / "no_spark_walk_mower.jsonl"
    record = fold([from_line(line) for line in path.read_text(encoding="utf-8").splitlines()])
    done = work_done(record, shop())
    assert (done.found, done.mended, done.mending_minutes, done.paid_before) == (True, True, 21, eur("55.00"))
    found = bill(done, shop(), agreed(record.approvals))
    assert (found.total.due.usual, found.needs_a_yes) == (eur("25.20"), False)
