"""The bill from what was done: minutes by the clock, parts fitted, and never above what was agreed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from firstpull.base.money import Money
from firstpull.workshop.approvals import Agreed
from firstpull.workshop.fold import JobRecord, money_of
from firstpull.workshop.minutes import worked
from firstpull.workshop.parts import PartLine, part_lines
from firstpull.workshop.pricing import Line, Prices, Service, Span, Total, total_of, with_minimum
from firstpull.workshop.withdrawn import standing


@dataclass(frozen=True, slots=True)
class BilledPart:
    """A part that went in, at the customer's price.

    A part of the customer's own costs nothing and has no warranty.
    """

    name: str
    price: Money
    quantity: int = 1
    condition: str = "new"
    customers_own: bool = False


@dataclass(frozen=True, slots=True)
class WorkDone:
    """What the bill rests on; `put_back` is a machine that was taken apart and goes back unmended."""

    found: bool
    mended: bool
    mending_minutes: float = 0.0
    parts: tuple[BilledPart, ...] = ()
    services: tuple[Service, ...] = ()
    paid_before: Money | None = None
    put_back: bool = False


@dataclass(frozen=True, slots=True)
class Bill:
    """Lines and total, what may be charged now, and what needs a new yes first."""

    lines: tuple[Line, ...]
    total: Total
    may_charge: Money
    above_limit: Money
    open: Money

    @property
    def needs_a_yes(self) -> bool:
        """Whether the work came to more than was agreed."""
        return self.above_limit.amount > 0


def bill(done: WorkDone, prices: Prices, agreed: Agreed) -> Bill:
    """What is owed. Above the agreed sum nothing is charged; the difference waits for a yes."""
    lines: list[Line] = []
    fee = prices.find_fee
    if done.found:
        lines.append(Line("find", "finding the fault", Span.flat(fee)))
    if done.mended:
        lines.append(Line("labour", "mending", Span.flat(prices.labour(done.mending_minutes))))
        lines += [
            Line(
                "part",
                part.name,
                Span.flat(_price(part, prices) * part.quantity),
                part.quantity,
                part.condition,
            )
            for part in done.parts
        ]
        lines += [Line("service", one.name, Span.flat(one.price)) for one in done.services]
        if done.found and prices.fee_credited:
            lines.append(Line("credit", "finding, credited", Span.flat(fee * -1)))
    if done.put_back and prices.reassembly_fee is not None:
        lines.append(Line("service", "putting it back together", Span.flat(prices.reassembly_fee)))
    whole = with_minimum(tuple(lines), prices) if done.mended else tuple(lines)
    total = total_of(whole, prices)
    due = total.due.usual
    limit = agreed.limit or prices.nothing
    may_charge = due if due <= limit else limit
    paid = done.paid_before or prices.nothing
    return Bill(whole, total, may_charge, due - may_charge, may_charge - paid)


def _price(part: BilledPart, prices: Prices) -> Money:
    return prices.nothing if part.customers_own else part.price


def work_done(
    record: JobRecord,
    prices: Prices,
    services: tuple[Service, ...] = (),
    *,
    way: Literal["working", "returned", ""] = "",
) -> WorkDone:
    """What the record says was done.

    Minutes are those after the yes to mend, as far as the clock tells them.
    """
    released = way or (str(record.release.body.get("way")) if record.release else "")
    parts = tuple(_billed(line, prices) for line in part_lines(record.parts) if line.state == "fitted")
    paid = money_of(record.handed_back.body.get("paid")) if record.handed_back else None
    mended = released != "returned" and bool(record.repairs or parts or services)
    put_back = released == "returned" and any(event.body.get("state") == "off" for event in record.access)
    return WorkDone(bool(record.readings), mended, mending_minutes(record), parts, services, paid, put_back)


def _billed(line: PartLine, prices: Prices) -> BilledPart:
    price = line.price or _from_cost(line.cost, prices)
    return BilledPart(line.part, price, line.quantity, line.condition or "new", line.customers_own)


def _from_cost(cost: Money | None, prices: Prices) -> Money:
    return prices.nothing if cost is None else prices.marked_up(cost)


def mending_minutes(record: JobRecord) -> float:
    """Hands-on minutes worked since the first yes to mend; all of them when nobody asked."""
    yes = [one.seq for one in record.approvals if one.body.get("to") == "mend" and one.body.get("yes")]
    since = yes[0] if yes else 0
    clocks = [one for one in standing(record.events) if one.kind == "clock" and one.seq > since]
    return worked(clocks).hands_on
