"""Taking in: four musts at the counter, the rest when there is time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from firstpull.base.clock import stamp
from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench.shop import Done, Shop
from firstpull.handbook.findings import nearest
from firstpull.handbook.spell import at_the_counter
from firstpull.workshop.events import new_event

CURRENCY_KEY = "currency"
USUAL_CURRENCY = "EUR"


@dataclass(frozen=True, slots=True)
class Counter:
    """What is said at the counter. Who, number, complaint and spending limit are the musts."""

    who: str
    number: str
    complaint: str
    limit: str
    machine: str = ""
    told: tuple[str, ...] = ()
    left_with: tuple[str, ...] = ()
    promised: str = ""
    place: str = ""
    comeback_of: str = ""


def take_in(shop: Shop, said: Counter, *, act_id: str, by: str) -> str:
    """Take a machine in and return its job.

    Words of the complaint that the handbook knows become its ids; all of them are kept as the customer's own words.

    Raises:
        ManyErrors: everything that is missing or cannot be read; nothing is kept then.
    """
    known = shop.store.find_act(act_id)
    if known:
        return known[0].job
    body = _checked(shop, said)
    number = shop.store.next_number()
    person = shop.store.put_person({"name": said.who.strip(), "contact": said.number.strip()})
    body |= {"number": str(number), "person": person}
    event = new_event(str(number), "opened", body, by=by, at=stamp(shop.clock()), act_id=act_id)
    return shop.store.append([event])[0].job


def name_kind(shop: Shop, job: str, machine: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Say which kind of machine a job is about, when nobody could tell at the counter; all that was kept then counts.

    Raises:
        InputError: there is no such class.
    """
    book = shop.room.book
    if machine not in book.machines:
        raise InputError(f"unknown machine class '{machine}'", "machine", nearest(machine, book.machines))
    record = shop.record(job)
    acts: list[tuple[str, Mapping[str, object]]] = [("opened", {"machine_class": machine, "when": record.opened_at})]
    if record.stage != "received":  # being opened again is no way back to the rack
        acts.append(("stage", {"stage": record.stage, "until": record.waiting_until}))
    return shop.do_all(job, acts, act_id=act_id, based_on=based_on, by=by)


def say_kind(shop: Shop, job: str, machine: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Say which kind of machine a job is, where that was not known at the counter.

    Raises:
        InputError: there is no such class, or the kind is known already.
    """
    if machine not in shop.room.book.machines:
        raise InputError(f"unknown machine class '{machine}'", "machine", nearest(machine, shop.room.book.machines))
    if shop.record(job).machine_class and not shop.store.find_act(act_id):
        raise InputError("the kind of machine is known already", f"job {job}", "take it in again if it is another")
    return shop.do(job, "opened", {"machine_class": machine}, act_id=act_id, based_on=based_on, by=by)


def _checked(shop: Shop, said: Counter) -> dict[str, object]:
    errors: list[FirstpullError] = []
    if not said.who.strip():
        errors.append(InputError("no name", "who", "who brought it"))
    if not said.number.strip():
        errors.append(InputError("no number", "number", "where they can be reached"))
    if not said.complaint.strip():
        errors.append(InputError("no complaint", "complaint", "what it does or does not do, in their words"))
    book = shop.room.book
    if said.machine and said.machine not in book.machines:
        right = nearest(said.machine, book.machines)
        errors.append(InputError(f"unknown machine class '{said.machine}'", "machine", right))
    for fact in said.told:
        if fact not in book.told:
            errors.append(InputError(f"unknown told fact '{fact}'", "told", nearest(fact, book.told)))
    limit = _money(said.limit, errors)
    if errors:
        raise ManyErrors(errors)
    currency = str(shop.store.get_setting(CURRENCY_KEY, USUAL_CURRENCY))
    heard = at_the_counter(book).spell(said.complaint)
    classes = heard.ids("machine")
    return {
        "machine_class": said.machine or (classes[0] if len(classes) == 1 else ""),
        "complaint": list(heard.ids("complaint")),
        "words": said.complaint.strip(),
        "told": list(dict.fromkeys([*said.told, *heard.ids("told")])),
        "spending_limit": {"amount": str(limit), "currency": currency} if limit is not None else None,
        "left_with": list(said.left_with),
        "promised": said.promised,
        "place": said.place,
        "comeback_of": said.comeback_of,
        "conditions": dict(shop.store.get_setting("conditions", {}) or {}),
        "stamp": {"handbook": book.hash, "seed": shop.room.seed},
    }


def _money(text: str, errors: list[FirstpullError]) -> Decimal | None:
    """The spending limit as typed; a comma is a decimal point."""
    plain = text.strip().replace(",", ".")
    if not plain:
        errors.append(InputError("no spending limit", "limit", "a sum, for example 80"))
        return None
    try:
        amount = Decimal(plain)
    except InvalidOperation:
        errors.append(InputError(f"'{text}' is not a sum", "limit", "a number, for example 80"))
        return None
    if not amount.is_finite() or not Decimal(0) <= amount < Decimal(1_000_000):
        errors.append(InputError(f"'{text}' cannot be a spending limit", "limit", "from 0 to 999999"))
        return None
    return amount
