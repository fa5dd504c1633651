"""Parts: wanted, ordered, arrived, sent back, fitted, brought by the customer; proof is noted before the order."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench.approving import limit_warnings
from firstpull.bench.find import session_of
from firstpull.bench.ourselves import Ourselves, ourselves, read_sum
from firstpull.bench.shop import Done, Shop
from firstpull.bench.thinking.said import probabilities
from firstpull.workshop.fold import JobRecord
from firstpull.workshop.parts import OrderLine, PartLine, awaited, last_arrival, orders, part_lines
from firstpull.workshop.saying import say_odds

STATES = ("wanted", "ordered", "arrived", "returned", "fitted", "supplied-by-customer")
CONDITIONS = ("", "new", "used", "rebuilt")
MOST_OFFERED = 6
LEAST_OFFERED = 0.05
_TEXTS = ("line", "number", "supplier", "promised", "condition", "proof", "words")
_SUMS = ("cost", "price", "deposit")


@dataclass(frozen=True, slots=True)
class PartSaid:
    """One step in the life of a part, as it is typed. Only `part` is a must; sums are typed as 34 or 34,50.

    `cost` is what the shop pays, `price` what the customer pays before tax; without a price the cost is marked up.
    `proof` says which reading made the part needed.
    """

    part: str
    line: str = ""
    number: str = ""
    supplier: str = ""
    quantity: int = 1
    cost: str = ""
    price: str = ""
    deposit: str = ""
    promised: str = ""
    condition: str = ""
    proof: str = ""
    returnable: bool | None = None
    bad_from_the_box: bool = False
    words: str = ""


@dataclass(frozen=True, slots=True)
class Parted:
    """What became of a step, the line as it stands now (None when it waits for a look), and what must be said."""

    done: Done
    line: PartLine | None
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartRow:
    """One part of a job in writing."""

    line: str
    part: str
    state: str
    number: str
    supplier: str
    quantity: int
    cost: str | None
    price: str | None
    deposit: str | None
    promised: str | None
    condition: str
    proof: str
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OfferedPart:
    """A part that a likely mend needs: for which repair, how likely that repair cures, and what the part costs."""

    part: str
    repair: str
    odds: str
    low: str | None
    usual: str | None
    high: str | None


@dataclass(frozen=True, slots=True)
class PartsList:
    """All parts of a job, those still awaited, the day by which all are promised, and what likely mends would need."""

    rows: tuple[PartRow, ...]
    awaited: tuple[str, ...]
    last_arrival: str | None
    offered: tuple[OfferedPart, ...]
    warnings: tuple[str, ...]


def part_step(shop: Shop, job: str, state: str, said: PartSaid, *, act_id: str, based_on: int, by: str) -> Parted:
    """Keep one step in the life of a part.

    What happened is kept whatever it is; an order without a proof, or above the agreed sum, comes back as a warning.
    Ordered parts show the proof that was noted when they were wanted.

    Raises:
        FirstpullError: everything that cannot be read; nothing is kept then.
    """
    body = _body(ourselves(shop), state, said)
    done = shop.do(job, "part", body, act_id=act_id, based_on=based_on, by=by)
    name = said.line.strip() or said.part.strip()
    line = next((x for x in part_lines(done.record.parts) if x.line == name), None)
    warned = line.warned if line is not None else ()
    return Parted(done, line, (*warned, *limit_warnings(shop, done.record)))


def _body(own: Ourselves, state: str, said: PartSaid) -> dict[str, Any]:
    errors: list[FirstpullError] = []
    if state not in STATES:
        errors.append(InputError(f"a part cannot be '{state}'", "state", ", ".join(STATES)))
    if not said.part.strip():
        errors.append(InputError("no part", "part", "what it is called"))
    if said.condition not in CONDITIONS:
        errors.append(InputError(f"'{said.condition}'", "condition", "new, used or rebuilt"))
    if said.quantity < 1:
        errors.append(InputError(f"{said.quantity} pieces", "quantity", "1 or more"))
    body: dict[str, Any] = {"part": said.part.strip(), "state": state, "quantity": said.quantity}
    body |= {k: text for k in _TEXTS if (text := str(getattr(said, k)).strip())}
    for key in _SUMS:
        text = str(getattr(said, key)).strip()
        if text:
            try:
                money = read_sum(text, own.currency, key)
                body[key] = {"amount": str(money.amount), "currency": money.currency}
            except FirstpullError as error:
                errors.append(error)
    if said.returnable is not None:
        body["returnable"] = said.returnable
    if said.bad_from_the_box:
        body["bad_from_the_box"] = True
    if errors:
        raise errors[0] if len(errors) == 1 else ManyErrors(errors)
    return body


def parts_list(shop: Shop, job: str) -> PartsList:
    """The parts of a job and what its likely mends would need. Every sum and day is in writing.

    Raises:
        FirstpullError: there is no such job, or a setting cannot be read.
    """
    own, record = ourselves(shop), shop.record(job)
    lines = part_lines(record.parts)
    return PartsList(
        tuple(_row(own, line) for line in lines),
        tuple(line.part for line in awaited(lines)),
        own.day(last_arrival(lines)),
        offered_parts(shop, record),
        limit_warnings(shop, record),
    )


def _row(own: Ourselves, line: PartLine) -> PartRow:
    plain = {f.name for f in fields(PartRow)} - {"cost", "price", "deposit", "promised", "warnings"}
    return PartRow(
        **{name: getattr(line, name) for name in plain},
        cost=own.money(line.cost), price=own.money(line.price), deposit=own.money(line.deposit),
        promised=own.day(line.promised), warnings=line.warned,
    )


def offered_parts(shop: Shop, record: JobRecord) -> tuple[OfferedPart, ...]:
    """Parts of the repairs that would likely cure what is wrong now, the likeliest first; none without a class."""
    if record.machine_class not in shop.room.book.machines:
        return ()
    own, session = ourselves(shop), session_of(shop, record)
    likely = sorted(probabilities(shop, record, session)["repair"].items(), key=lambda one: (-one[1], one[0]))
    found: dict[str, OfferedPart] = {}
    for name, probability in likely:
        if probability < LEAST_OFFERED or len(found) >= MOST_OFFERED:
            break
        repair = session.book.repairs[name]
        for part in repair.parts:
            sums = [own.money(read_sum(repr(x), own.currency, "price")) for x in (part.low, part.usual, part.high)]
            found.setdefault(part.name, OfferedPart(part.name, repair.name, say_odds(probability), *sums))
    return tuple(found.values())


def to_order(shop: Shop) -> dict[str, tuple[OrderLine, ...]]:
    """One order for each supplier from everything wanted on all open jobs."""
    return orders(shop.record(line.job) for line in shop.store.jobs(open_only=True))
