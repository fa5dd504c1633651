"""What is owed: from what the record says was done, and never above what was agreed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from firstpull.base.money import Money
from firstpull.bench.find import repairs_done, session_of
from firstpull.bench.mending import minutes
from firstpull.bench.ourselves import ourselves, prices
from firstpull.bench.shop import Shop
from firstpull.safety.state import at_rest
from firstpull.workshop.approvals import Agreed, agreed
from firstpull.workshop.bill import Bill, WorkDone, bill, mending_minutes, work_done
from firstpull.workshop.fold import JobRecord, money_of
from firstpull.workshop.parts import part_lines


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line of a bill in writing; `running` is the sum up to and with it."""

    name: str
    amount: str | None
    running: str | None
    quantity: int
    condition: str
    detail: str


@dataclass(frozen=True, slots=True)
class ShownBill:
    """A bill as it is said or printed: every sum in writing, and what somebody should look at before it goes out."""

    lines: tuple[BillLine, ...]
    net: str | None
    tax: str | None
    tax_words: str
    total: str | None
    agreed: str | None
    charged: str | None
    above: str | None
    paid: str | None
    open: str | None
    warnings: tuple[str, ...]


def agreed_on(record: JobRecord, told: Money | None = None) -> Agreed:
    """What stands agreed on a job, with the limit said at the counter until a yes carries its own sum.

    `told` is what finding it and putting it back together cost, told at the counter: it stays agreed, within the limit,
    when the owner says no to mending. A no to finding agrees to no money at all.
    """
    said = agreed(record.approvals)
    limit = record.spending_limit
    if limit is None or said.limit is not None:
        return said
    if said.last is not None and not said.last.body.get("yes"):
        kept = None if told is None or said.last.body.get("to") != "mend" else told if told <= limit else limit
        return replace(said, find_limit=kept)
    return replace(said, mend_limit=limit) if said.to_mend else replace(said, find_limit=limit)


def told_at_the_counter(shop: Shop) -> Money:
    """What finding it costs, and putting it back together where the shop charges for that."""
    asked = prices(shop)
    fee = asked.find_fee if asked.reassembly_fee is None else asked.find_fee + asked.reassembly_fee
    return asked.with_tax(fee)


def bill_of(shop: Shop, record: JobRecord) -> Bill:
    """What is owed for what the record says was done; above the agreed sum nothing is charged."""
    return bill(done_on(shop, record), prices(shop), agreed_on(record, told_at_the_counter(shop)))


def done_on(shop: Shop, record: JobRecord) -> WorkDone:
    """What the bill of a job rests on: repairs by the shop only, minutes of mending, parts that went in.

    A repair that the owner or somebody before us did is in the record and is not work of ours. Minutes are those of
    the clock; where no clock ran, those of the handbook for the repairs that were done.
    """
    ours = tuple(e for e in record.repairs if (e.body.get("by") or "shop") == "shop")
    done = work_done(replace(record, repairs=ours), prices(shop))
    return replace(done, mending_minutes=book_minutes(shop, record)) if done.mended and not by_clock(record) else done


def by_clock(record: JobRecord) -> bool:
    """Whether the clock ran while it was mended."""
    return mending_minutes(record) > 0


def book_minutes(shop: Shop, record: JobRecord) -> float:
    """The handbook's minutes for the repairs that the shop did, from a whole machine to a whole machine."""
    if record.machine_class not in shop.room.book.machines:
        return 0.0
    session = session_of(shop, record)
    known = tuple(dict.fromkeys(r.id for r in repairs_done(shop, record) if r.id in session.book.repairs))
    return minutes(session, known, at_rest(session.book.access)).usual


def ordered_sum(shop: Shop, record: JobRecord) -> Money:
    """What the parts ordered, arrived or fitted come to at the customer's price, with tax."""
    asked = prices(shop)
    total = asked.nothing
    for line in part_lines(record.parts):
        if line.state in ("ordered", "arrived", "fitted") and not line.customers_own:
            price = line.price or (asked.marked_up(line.cost) if line.cost is not None else None)
            total = total if price is None else total + price * line.quantity
    return asked.with_tax(total)


def show_bill(shop: Shop, job: str) -> ShownBill:
    """The bill of a job in writing, for a page or for paper. Nothing is kept.

    Raises:
        FirstpullError: there is no such job, or a setting cannot be read.
    """
    record, own, asked = shop.record(job), ourselves(shop), prices(shop)
    found = bill_of(shop, record)
    running = asked.nothing
    lines = []
    for line in found.lines:
        running = running + line.amount.usual
        lines.append(BillLine(
            line.name, own.money(line.amount.usual), own.money(running), line.quantity, line.condition,
            _detail(shop, record, line.kind, line.name),
        ))
    share = f"{(asked.tax * 100).normalize():f} in 100"
    paid = money_of(record.handed_back.body.get("paid")) if record.handed_back else None
    return ShownBill(
        tuple(lines), own.money(found.total.net.usual),
        own.money(found.total.tax.usual) if asked.tax > 0 else None,
        (f"Tax in it, {share}" if asked.tax_included else f"Tax, {share}") if asked.tax > 0 else "",
        own.money(found.total.due.usual), own.money(agreed_on(record, told_at_the_counter(shop)).limit),
        own.money(found.may_charge),
        own.money(found.above_limit) if found.needs_a_yes else None, own.money(paid), own.money(found.open),
        forgotten(shop, record),
    )


def _detail(shop: Shop, record: JobRecord, kind: str, name: str) -> str:
    """How a line came about; the customer's own parts and unpriced ones are named as such."""
    if kind == "labour":
        spent = done_on(shop, record).mending_minutes
        return f"{spent:.0f} minutes by the {'clock' if by_clock(record) else 'handbook'}"
    line = next((x for x in part_lines(record.parts) if x.part == name), None) if kind == "part" else None
    if line is None:
        return ""
    if line.customers_own:
        return "the customer's own"
    return "no price on record" if line.price is None and line.cost is None else line.number


def forgotten(shop: Shop, record: JobRecord) -> tuple[str, ...]:
    """What would go out unpaid because nobody wrote it down: parts without a price, repairs without their part."""
    fitted = [x for x in part_lines(record.parts) if x.state == "fitted"]
    said = [
        f"{x.part}: no price was written down, so it is billed at nothing."
        for x in fitted if x.price is None and x.cost is None and not x.customers_own
    ]
    if not fitted:
        said += [
            f"{r.name}: it needs {', '.join(p.name for p in r.parts)}, and no part was fitted on record."
            for r in repairs_done(shop, record) if r.parts
        ]
    return tuple(said)
