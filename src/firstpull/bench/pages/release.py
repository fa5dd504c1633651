"""Proving and releasing: every proof, what stands in the way, and both doors."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.find import repairs_done
from firstpull.bench.nearby import fuel_beside
from firstpull.bench.pages.head import Choice, JobHead, fresh_act, head
from firstpull.bench.pages.pictures import Shown, shown_pictures
from firstpull.bench.release import Door, door
from firstpull.bench.shop import Shop
from firstpull.handbook.book import Book


@dataclass(frozen=True, slots=True)
class ProofRow:
    """One proof: its standing in a word, how often it was shown, and how it can be shown here and now."""

    id: str
    name: str
    check: str
    result: str
    shown: int
    times: int
    safety: bool
    answers: tuple[Choice, ...]
    unit: str


@dataclass(frozen=True, slots=True)
class ValueRow:
    """A value that a repair asks to be written down."""

    id: str
    name: str
    unit: str
    written: str
    right: str
    must: bool


@dataclass(frozen=True, slots=True)
class ReleasePage:
    """The way out: every proof, what stands in the way, and both doors."""

    head: JobHead
    act_id: str
    door: Door
    proofs: tuple[ProofRow, ...]
    values: tuple[ValueRow, ...]
    released: str
    why: str
    to_go: int
    beside: tuple[str, ...]
    pictures: tuple[Shown, ...]


def release_page(shop: Shop, job: str) -> ReleasePage:
    """The page of proofs and doors.

    Raises:
        InputError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    book = shop.room.book
    written = {str(e.body.get("name")): f"{e.body.get('value'):g} {e.body.get('unit')}" for e in record.values}
    specs = {s.id: s for s in book.machines[record.machine_class].specs} if record.machine_class else {}
    found = door(shop, job)
    rows = []
    for value in (v for r in repairs_done(shop, record) for v in r.values):
        spec = specs.get(value.spec or "")
        right = f"{spec.low:g} to {spec.high:g} {spec.unit}" if spec and spec.low and spec.high else ""
        rows.append(ValueRow(value.id, value.name, value.unit, written.get(value.id, ""),
                             right or "no figure held: the maker's rules", value.must))
    return ReleasePage(
        head=head(shop, record), act_id=fresh_act(), door=found,
        proofs=tuple(
            ProofRow(p.id, p.name, p.check, p.result, sum(r == "passed" for r in p.results), p.times, p.safety,
                     *_proof_answers(book, p.check))
            for p in found.proofs
        ),
        values=tuple(rows),
        released=str(record.release.body.get("way")) if record.release else "",
        why=str(record.release.body.get("why") or "") if record.release else "",
        to_go=len(found.verdict.hindrances),
        beside=tuple(one.words for one in fuel_beside(shop, job)) if record.release is None else (),
        pictures=shown_pictures(record),
    )


def _proof_answers(book: Book, check: str) -> tuple[tuple[Choice, ...], str]:
    """How a proof is answered: by words, or by a number in a unit."""
    if check in book.complaints:
        return (Choice("gone", "Gone"), Choice("still", "Still so")), ""
    reading = book.checks[check].readings[0]
    return tuple(Choice(o.id, o.name) for o in reading.outcomes), reading.unit if reading.number else ""
