"""To the owner: what is wrong in plain words, how that is known, one price, and the owner's yes or no."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.billing import agreed_on
from firstpull.bench.drawing import Drawing, PartMark
from firstpull.bench.estimating import ShownEstimate, look_estimate
from firstpull.bench.find import session_of
from firstpull.bench.ourselves import ourselves
from firstpull.bench.pages.find import ReadingRow, reading_rows
from firstpull.bench.pages.head import JobHead, clock_time, fresh_act, head
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.said import said_of
from firstpull.handbook.entries import Fault

MOST_PROOFS = 3
LIKELY = 0.5


@dataclass(frozen=True, slots=True)
class Told:
    """One thing it may be, as the owner hears it."""

    name: str
    plain: str
    prevent: str
    part: str


@dataclass(frozen=True, slots=True)
class OwnerPage:
    """One screen for the owner: no odds, no trade words, no blame."""

    head: JobHead
    act_id: str
    owner: str
    known: bool
    told: tuple[Told, ...]
    proofs: tuple[ReadingRow, ...]
    estimate: ShownEstimate
    agreed: str
    drawing: Drawing


def owner_page(shop: Shop, job: str) -> OwnerPage:
    """The page for the owner.

    Raises:
        FirstpullError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    book = shop.room.book
    known = said_of(shop, record, session)
    named = [s for s in known["suspects"] if s["faults"]]
    top = named[0] if named else None
    sure = top is not None and top["probability"] >= LIKELY
    faults = (top["faults"] if sure else [f for s in named[:3] for f in s["faults"][:1]]) if top else []
    told = tuple(_told(book.faults[f]) for f in dict.fromkeys(faults) if f in book.faults)
    person = shop.store.get_person(record.person) if record.person else None
    return OwnerPage(
        head(shop, record), fresh_act(), str((person or {}).get("name", "")), sure, told,
        tuple(r for r in reading_rows(book, record, None) if r.reading != "not done")[:MOST_PROOFS],
        look_estimate(shop, job), _agreed(shop, job), _one_part(session.book.machine.drawing, told),
    )


def _told(fault: Fault) -> Told:
    return Told(fault.name, fault.plain, fault.prevent, fault.part)


def _one_part(kind: str, told: tuple[Told, ...]) -> Drawing:
    """The machine with one part inked, or none."""
    marks = {t.part: PartMark(t.part, 4, False, ()) for t in told[:1]}
    named = told[0].part.replace("-", " ") if told else "nothing"
    return Drawing(kind, marks, f"The {named} is inked." if told else "Nothing is inked.")


def _agreed(shop: Shop, job: str) -> str:
    """What stands agreed, in one sentence; empty when nobody was asked."""
    record = shop.record(job)
    now = agreed_on(record)
    if now.last is None:
        return ""
    own = ourselves(shop)
    to = str(now.last.body.get("to"))
    yes = "said yes" if now.last.body.get("yes") else "said no"
    limit = own.money(now.limit)
    who = str(now.last.body.get("who") or "the owner")
    how = str(now.last.body.get("how") or "")
    up_to = f", up to {limit}" if limit and now.last.body.get("yes") else ""
    return f"{who} {yes} to {to} it{up_to}, {how}, {clock_time(now.last.when)}."
