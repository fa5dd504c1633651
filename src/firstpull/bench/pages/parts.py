"""The parts of a job from wanted to fitted, and the order of the whole shop."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.pages.find import reading_rows
from firstpull.bench.pages.head import Choice, JobHead, fresh_act, head
from firstpull.bench.parting import OfferedPart, PartRow, PartsList, parts_list, to_order
from firstpull.bench.shop import Shop
from firstpull.workshop.parts import OrderLine

# What can become of a part next, by how it stands: what is sent and what is read on it.
NEXT: dict[str, tuple[Choice, ...]] = {
    "wanted": (Choice("ordered", "Ordered"), Choice("arrived", "It is here")),
    "ordered": (Choice("arrived", "It is here"), Choice("returned", "Sent back")),
    "arrived": (Choice("fitted", "Fitted"), Choice("returned", "Sent back")),
    "supplied-by-customer": (Choice("fitted", "Fitted"), Choice("returned", "Given back")),
    "fitted": (),
    "returned": (Choice("wanted", "Wanted again"),),
}
WORDS = {
    "wanted": "wanted", "ordered": "ordered", "arrived": "here", "returned": "sent back", "fitted": "fitted",
    "supplied-by-customer": "brought by the customer",
}


@dataclass(frozen=True, slots=True)
class PartsPage:
    """The parts of one job, what likely mends need, and what was read that may be the proof of one."""

    head: JobHead
    act_id: str
    parts: PartsList
    rows: tuple[tuple[PartRow, str, tuple[Choice, ...]], ...]
    offered: tuple[OfferedPart, ...]
    proofs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """One line of an order."""

    part: str
    number: str
    quantity: int
    jobs: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class OrderPage:
    """One order a supplier, from everything wanted on all open jobs."""

    orders: tuple[tuple[str, tuple[Wanted, ...]], ...]


def parts_page(shop: Shop, job: str) -> PartsPage:
    """The parts of a job.

    Raises:
        FirstpullError: there is no such job, or a setting cannot be read.
    """
    record = shop.record(job)
    listed = parts_list(shop, job)
    held = {row.part.casefold() for row in listed.rows}
    rows = tuple((row, WORDS.get(row.state, row.state), NEXT.get(row.state, ())) for row in listed.rows)
    read = reading_rows(shop.room.book, record, None)
    offered = tuple(o for o in listed.offered if o.part.casefold() not in held)
    return PartsPage(
        head(shop, record), fresh_act(), listed, rows, offered,
        tuple(f"{r.name}: {r.reading}" for r in read if r.reading != "not done"),
    )


def order_page(shop: Shop) -> OrderPage:
    """What is to be ordered for the whole shop, one order a supplier."""
    return OrderPage(tuple(
        (supplier, tuple(_wanted(shop, line) for line in lines)) for supplier, lines in to_order(shop).items()
    ))


def _wanted(shop: Shop, line: OrderLine) -> Wanted:
    jobs = tuple(Choice(job, shop.record(job).number or job) for job in line.jobs)
    return Wanted(line.part, line.number, line.quantity, jobs)
