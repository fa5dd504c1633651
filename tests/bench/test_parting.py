"""Parts from wanted to fitted or sent back."""

from __future__ import annotations

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.parting import PartSaid, part_step, parts_list, to_order
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, how, mended, taken_in


def test_a_part_keeps_what_was_said_of_it_through_its_life(shop: Shop) -> None:
    job = found(shop)
    part_step(shop, job, "wanted", PartSaid("coil", number="HV-1180", supplier="Vale Parts", price="35",
                                            proof="dark with the stop lead off"), **how(shop, job))
    part_step(shop, job, "ordered", PartSaid("coil", cost="20,50", deposit="10", promised="2026-04-14"),
              **how(shop, job))
    (row,) = parts_list(shop, job).rows
    assert (row.number, row.supplier, row.price, row.cost, row.deposit) == (
        "HV-1180", "Vale Parts", "€35.00", "€20.50", "€10.00")
    assert row.proof == "dark with the stop lead off"
    assert parts_list(shop, job).awaited == ("coil",)
    assert "April 14" in (parts_list(shop, job).last_arrival or "")
    part_step(shop, job, "arrived", PartSaid("coil"), **how(shop, job))
    assert parts_list(shop, job).awaited == ()


def test_an_order_without_a_proof_is_kept_and_warned_of(shop: Shop) -> None:
    job = found(shop)
    said = part_step(shop, job, "ordered", PartSaid("coil", price="9"), **how(shop, job))
    assert "ordered without a proof on record" in said.warnings
    noted = part_step(shop, job, "ordered", PartSaid("coil", proof="dark"), **how(shop, job))
    assert noted.warnings == ()


def test_a_dead_new_part_and_one_the_customer_brought_are_said(shop: Shop) -> None:
    job = found(shop)
    dead = part_step(shop, job, "returned", PartSaid("coil", bad_from_the_box=True), **how(shop, job))
    assert any("dead from the box" in w for w in dead.warnings)
    own = part_step(shop, job, "supplied-by-customer", PartSaid("spark plug"), **how(shop, job))
    assert any("no warranty" in w for w in own.warnings)


def test_two_of_the_same_part_are_two_lines_when_they_are_named_so(shop: Shop) -> None:
    job = found(shop)
    for line in ("coil 1", "coil 2"):
        part_step(shop, job, "wanted", PartSaid("coil", line=line), **how(shop, job))
    assert [r.line for r in parts_list(shop, job).rows] == ["coil 1", "coil 2"]


def test_what_the_likely_mend_needs_is_offered_with_its_price(shop: Shop) -> None:
    offered = parts_list(shop, found(shop)).offered
    assert offered[0].part == "coil"
    assert offered[0].usual is not None
    assert parts_list(shop, taken_in(shop, machine="")).offered == ()


def test_one_order_a_supplier_over_all_open_jobs(shop: Shop) -> None:
    jobs = [taken_in(shop), taken_in(shop)]
    for job in jobs:
        part_step(shop, job, "wanted", PartSaid("plug", number="P1", supplier="Vale Parts"), **how(shop, job))
    (line,) = to_order(shop)["Vale Parts"]
    assert (line.quantity, sorted(line.jobs)) == (2, sorted(jobs))


@pytest.mark.parametrize(
    ("state", "said"),
    [("lost", PartSaid("coil")), ("wanted", PartSaid(" ")), ("wanted", PartSaid("coil", quantity=0)),
     ("wanted", PartSaid("coil", cost="cheap")), ("fitted", PartSaid("coil", condition="shiny"))],
)
def test_what_cannot_be_read_is_refused_and_not_kept(shop: Shop, state: str, said: PartSaid) -> None:
    job = taken_in(shop)
    with pytest.raises(FirstpullError):
        part_step(shop, job, state, said, **how(shop, job))
    assert shop.record(job).parts == ()


def test_a_fitted_part_is_no_longer_awaited(shop: Shop) -> None:
    found_list = parts_list(shop, mended(shop))
    assert found_list.awaited == ()
    assert found_list.last_arrival is None
