"""Parts from wanted to fitted."""

from __future__ import annotations

from typing import Any

from firstpull.base.money import Money
from firstpull.workshop.events import Event
from firstpull.workshop.fold import fold
from firstpull.workshop.parts import awaited, last_arrival, orders, part_lines


def part(seq: int, state: str, part: str = "coil", job: str = "J1", **body: Any) -> Event:
    at = "2026-04-11T09:00:00.000Z"
    return Event(job, seq, f"{job}-{seq}", 0, "part", 1, at, "sam", {"part": part, "state": state, **body})


def test_a_part_is_followed_from_wanted_to_fitted() -> None:
    cost = {"amount": "31.00", "currency": "EUR"}
    steps = [
        part(1, "wanted", proof="a7"),
        part(2, "ordered", number="HV-9", cost=cost, promised="2026-04-14"),
    ]
    (line,) = part_lines(steps)
    assert (line.state, line.number, line.cost, line.proof) == (
        "ordered",
        "HV-9",
        Money.of("31.00", "EUR"),
        "a7",
    )
    assert awaited([line]) == (line,)
    (done,) = part_lines([*steps, part(3, "arrived"), part(4, "fitted")])
    assert (done.state, done.number, awaited([done])) == ("fitted", "HV-9", ())


def test_two_of_the_same_part_are_two_lines_when_named_so() -> None:
    first = [part(1, "ordered", line="first coil"), part(2, "ordered", line="second coil")]
    lines = part_lines([*first, part(3, "returned", line="first coil", bad_from_the_box=True)])
    assert [line.state for line in lines] == ["returned", "ordered"]
    assert lines[0].warned == ("dead from the box: claim it from the supplier",)


def test_ordering_without_a_proof_and_a_customers_part_are_pointed_out() -> None:
    assert part_lines([part(1, "ordered")])[0].warned == ("ordered without a proof on record",)
    own = part_lines([part(1, "supplied-by-customer"), part(2, "fitted")])[0]
    assert own.customers_own
    assert own.warned == ("supplied by the customer: no warranty on the part",)


def test_the_last_promised_day_counts_and_a_missing_promise_is_no_day() -> None:
    lines = part_lines([part(1, "ordered", promised="2026-04-14"), part(2, "ordered", "plug", promised="2026-04-20")])
    assert last_arrival(lines) == "2026-04-20"
    assert last_arrival([*lines, *part_lines([part(3, "wanted", "rope")])]) == ""


def test_one_order_for_each_supplier_over_all_jobs() -> None:
    jobs = [
        fold([part(1, "wanted", "plug", "J1", supplier="Fen Lane", number="P1", quantity=2)]),
        fold(
            [
                part(1, "wanted", "plug", "J2", supplier="Fen Lane", number="P1"),
                part(2, "ordered", "rope", "J2"),
            ]
        ),
        fold([part(1, "wanted", "blade", "J3", supplier="Mill Row")]),
    ]
    found = orders(jobs)
    assert [(line.part, line.quantity, line.jobs) for line in found["Fen Lane"]] == [("plug", 3, ("J1", "J2"))]
    assert list(found) == ["Fen Lane", "Mill Row"]
