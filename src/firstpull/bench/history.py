"""The same machine again: what was done before, and what a comeback opens with."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from firstpull.base.clock import stamp
from firstpull.base.errors import InputError
from firstpull.bench.find import repairs_done
from firstpull.bench.ourselves import Ourselves, ourselves
from firstpull.bench.release import door
from firstpull.bench.shop import Done, Shop
from firstpull.handbook.select import for_class
from firstpull.safety.release import wanted_proofs
from firstpull.workshop.fold import JobRecord
from firstpull.workshop.history import CAUSE_CLASSES, Past, comeback, history
from firstpull.workshop.line import JobLine

MOST_PEOPLE = 5000
LEAST_DIGITS = 4  # fewer digits of a telephone number would join strangers: judgement


@dataclass(frozen=True, slots=True)
class PastShown:
    """One earlier job in writing: its complaint, what was mended, what was set, by which door it went."""

    job: str
    day: str | None
    days_ago: int | None
    complaint: tuple[str, ...]
    repairs: tuple[str, ...]
    values: tuple[str, ...]
    way: str


@dataclass(frozen=True, slots=True)
class ProofShown:
    """One proof of the first job: what was shown, and how it came out."""

    name: str
    result: str
    shown: int
    times: int


@dataclass(frozen=True, slots=True)
class ComebackShown:
    """What lies on the bench when a machine comes back: the first job's proofs, and what was never tested.

    `inside_period` says whether the shop's own period still runs; a first look is free then.
    """

    of: PastShown
    days: int | None
    inside_period: bool
    same_complaint: bool
    proofs: tuple[ProofShown, ...]
    not_tested: tuple[str, ...]
    first_look_free: bool
    cause_classes: tuple[str, ...]


def earlier_jobs(shop: Shop, job: str) -> tuple[PastShown, ...]:
    """Earlier jobs of the same machine, the last one first.

    It is the same machine when the record names it so; where it does not, the same kind of machine under the same
    name or telephone number, which the person at the counter should confirm.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    found = [shop.record(line.job) for line in _lines(shop, record) if line.job != job]
    before = [r for r in found if r.opened_at <= record.opened_at]
    return _shown(shop, before)


def known_machines(shop: Shop, contact: str, machine_class: str = "") -> tuple[PastShown, ...]:
    """What was here before under this telephone number or address, for the counter; the last one first."""
    lines = _of_contact(shop, contact)
    wanted = [x for x in lines if not machine_class or x.machine_class == machine_class]
    return _shown(shop, [shop.record(line.job) for line in wanted])


def _lines(shop: Shop, record: JobRecord) -> list[JobLine]:
    if record.machine:
        return list(shop.store.jobs(machine=record.machine))
    if not record.person or record.erased:
        return []
    fields = shop.store.get_person(record.person) or {}
    mine = list(shop.store.jobs(person=record.person)) + _of_contact(shop, str(fields.get("contact", "")))
    once = {line.job: line for line in mine}
    return [line for line in once.values() if line.machine_class == record.machine_class]


def _of_contact(shop: Shop, contact: str) -> list[JobLine]:
    """Jobs of everybody who can be reached there; a number is compared by its digits, anything else as it is."""
    key = _contact_key(contact)
    if not key:
        return []
    # Numbers are written with any spaces: everybody whose number begins alike is compared by all digits.
    begins = key[:2] if key.isdigit() else contact.strip()
    people = shop.store.find_people(begins, limit=MOST_PEOPLE)
    same = [person for person, fields in people if _contact_key(str(fields.get("contact", ""))) == key]
    return [line for person in same for line in shop.store.jobs(person=person)]


def _contact_key(contact: str) -> str:
    digits = re.sub(r"\D", "", contact)
    return digits if len(digits) >= LEAST_DIGITS else contact.strip().casefold()


def _shown(shop: Shop, records: list[JobRecord]) -> tuple[PastShown, ...]:
    own = ourselves(shop)
    return tuple(_past(shop, own, one) for one in history(records, stamp(shop.clock())))


def _past(shop: Shop, own: Ourselves, past: Past) -> PastShown:
    book = shop.room.book
    return PastShown(
        past.job, own.day(past.opened_at), past.days_ago,
        tuple(book.name("complaint", c) for c in past.complaint),
        tuple(book.name("repair", r) for r in past.repairs),
        tuple(f"{name} {value} {unit}".strip() for name, value, unit in past.values),
        past.way,
    )


def comeback_of(shop: Shop, job: str) -> ComebackShown | None:
    """What a comeback opens with; None when the job is none.

    The proofs are those the first job was asked for, as they stood when it left; what none of them showed is listed
    as not tested, so that nobody starts over and nobody trusts what was never tried.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    if not record.comeback_of or not shop.store.read(record.comeback_of):
        return None
    first = shop.record(record.comeback_of)
    own = ourselves(shop)
    proofs = _proofs(shop, first)
    found = comeback(
        first, record.complaint, record.opened_at,
        wanted_proofs=tuple(p.name for p in proofs if p.result in ("missing", "undecided")),
        period_days=own.words.period_days,
    )
    book = shop.room.book
    named = tuple(book.name("release", p) for p in found.not_tested)
    (past,) = _shown(shop, [first])
    return ComebackShown(
        past, found.days, found.inside_period, found.same_complaint, proofs, named, found.first_look_free,
        found.cause_classes,
    )


def _proofs(shop: Shop, first: JobRecord) -> tuple[ProofShown, ...]:
    """The first job's release proofs as they stood when it left."""
    if first.machine_class not in shop.room.book.machines:
        return ()
    reported = {p.id: p for p in door(shop, first.job).proofs}
    asked = wanted_proofs(for_class(shop.room.book, first.machine_class), repairs_done(shop, first))
    return tuple(
        ProofShown(p.name, reported[i].result, sum(r == "passed" for r in reported[i].results), p.times)
        for i, p in asked.items() if i in reported
    )


def name_cause(
    shop: Shop, job: str, of: str, cause_class: str, *, act_id: str, based_on: int, by: str, words: str = ""
) -> Done:
    """Say which job this machine came back from, and of what class the cause was once that is known.

    Raises:
        InputError: there is no such first job, it is the same one, or the class is none.
    """
    if of == job:
        raise InputError("a job cannot come back from itself", "of", "the number of the first job")
    shop.record(of)
    if cause_class and cause_class not in CAUSE_CLASSES:
        raise InputError(f"'{cause_class}' is no class of cause", "cause", ", ".join(CAUSE_CLASSES))
    body: Mapping[str, Any] = {"of": of, "cause_class": cause_class, "words": words}
    return shop.do(job, "comeback", body, act_id=act_id, based_on=based_on, by=by)
