"""Parts: each line from wanted to fitted or sent back, what is awaited, and one order a supplier."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from firstpull.base.money import Money
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord, money_of

_AWAITED = frozenset({"wanted", "ordered"})


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part of one job as it stands."""

    line: str
    part: str
    state: str
    number: str = ""
    supplier: str = ""
    quantity: int = 1
    cost: Money | None = None
    price: Money | None = None
    deposit: Money | None = None
    promised: str = ""
    returnable: bool | None = None
    condition: str = ""
    proof: str = ""
    customers_own: bool = False
    bad_from_the_box: bool = False

    @property
    def warned(self) -> tuple[str, ...]:
        """What should be said of this line before money is spent on it."""
        said = []
        if self.state == "ordered" and not self.proof:
            said.append("ordered without a proof on record")
        if self.customers_own:
            said.append("supplied by the customer: no warranty on the part")
        if self.bad_from_the_box:
            said.append("dead from the box: claim it from the supplier")
        return tuple(said)


def part_lines(events: Iterable[Event]) -> tuple[PartLine, ...]:
    """Fold part events into lines.

    A line is named by `line`, or by the part when a job holds it only once.
    """
    lines: dict[str, PartLine] = {}
    for event in events:
        body = event.body
        part = str(body.get("part", ""))
        name = str(body.get("line") or part)
        known = lines.get(name, PartLine(name, part, "wanted"))
        lines[name] = replace(
            known,
            state=str(body.get("state", known.state)),
            number=str(body.get("number") or known.number),
            supplier=str(body.get("supplier") or known.supplier),
            quantity=body["quantity"] if isinstance(body.get("quantity"), int) else known.quantity,
            cost=money_of(body.get("cost")) or known.cost,
            price=money_of(body.get("price")) or known.price,
            deposit=money_of(body.get("deposit")) or known.deposit,
            promised=str(body.get("promised") or known.promised),
            returnable=known.returnable if body.get("returnable") is None else bool(body["returnable"]),
            condition=str(body.get("condition") or known.condition),
            proof=str(body.get("proof") or known.proof),
            customers_own=known.customers_own or body.get("state") == "supplied-by-customer",
            bad_from_the_box=known.bad_from_the_box or bool(body.get("bad_from_the_box")),
        )
    return tuple(lines.values())


def awaited(lines: Sequence[PartLine]) -> tuple[PartLine, ...]:
    """The lines the job still waits for."""
    return tuple(line for line in lines if line.state in _AWAITED)


def last_arrival(lines: Sequence[PartLine]) -> str:
    """The day by which all ordered parts are promised; empty when one has no promise or none is awaited."""
    days = [line.promised for line in awaited(lines)]
    return max(days) if days and all(days) else ""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One part to order and the jobs it is for."""

    part: str
    number: str
    quantity: int
    jobs: tuple[str, ...]


def orders(records: Iterable[JobRecord]) -> dict[str, tuple[OrderLine, ...]]:
    """One order for each supplier from everything wanted on all these jobs.

    Equal numbers are put together.
    """
    found: dict[str, dict[tuple[str, str], OrderLine]] = {}
    for record in records:
        for line in part_lines(record.parts):
            if line.state != "wanted":
                continue
            of_supplier = found.setdefault(line.supplier, {})
            known = of_supplier.get((line.part, line.number), OrderLine(line.part, line.number, 0, ()))
            jobs = known.jobs if record.job in known.jobs else (*known.jobs, record.job)
            of_supplier[line.part, line.number] = replace(known, quantity=known.quantity + line.quantity, jobs=jobs)
    return {supplier: tuple(lines.values()) for supplier, lines in sorted(found.items())}
