"""Papers about money: the estimate as it was said, the yes, and the bill."""

from __future__ import annotations

from firstpull import paper
from firstpull.base.errors import RefusedError
from firstpull.base.money import Money
from firstpull.bench.billing import BillLine, agreed_on, show_bill
from firstpull.bench.estimating import ShownEstimate, ShownLine, ShownSuspect, kept_estimate
from firstpull.bench.paperwork.file import JobFile
from firstpull.bench.paperwork.leaving import fuel_left, old_parts, refused, warranty
from firstpull.bench.paperwork.measured import measured
from firstpull.bench.paperwork.readings import readings
from firstpull.workshop.events import Event
from firstpull.workshop.fold import money_of

DETAILED = 3  # mends with lines of their own on an estimate: judgement; the others have one line each
BEYOND = "Anything beyond this sum needs a new yes."


def estimate(file: JobFile) -> paper.Estimate:
    """The last estimate that was kept, as it was said.

    Raises:
        RefusedError: none was kept.
    """
    said = kept_estimate(file.shop, file.record)
    if said is None:
        raise RefusedError("no estimate was made", f"job {file.record.job}", "make one first: firstpull job estimate")
    record = file.record
    options = [_option(one, said) for one in said.likely[:DETAILED]]
    if len(said.likely) > DETAILED:
        rest = tuple(paper.PriceLine(one.name, one.usual, f"{one.odds}; {one.low} to {one.high}")
                     for one in said.likely[DETAILED:])
        options.append(paper.Option("Less likely", rest, note=said.tax or None))
    if said.with_service:
        total = paper.Total("All together, usually", said.with_service, True)
        options.append(paper.Option("Mend it and service it", (), (total,)))
    names = " or ".join(f"{one.name} ({one.odds})" for one in said.likely[:DETAILED])
    names += " or one of those below" if len(said.likely) > DETAILED else ""
    return paper.Estimate(
        head=file.head(record.estimates[-1].when),
        found=f"{said.standing[:1].upper()}{said.standing[1:]}: {names}." if names else "What it is is not known yet.",
        certainty=_certainty(said),
        options=tuple(options),
        worth=said.worth or None,
        declined=f"{said.returned} in all, and it goes home as it came" if said.returned else None,
        valid_until=said.valid_until,
        notes=(*readings(file), *((said.warning,) if said.warning else ())),
        cautions=refused(file),
        signers=file.signers("Yes, mend it"),
    )


def _certainty(said: ShownEstimate) -> str:
    if not said.likely:
        return f"Finding it costs {said.find_fee}." if said.find_fee else ""
    rest = f" {said.left_over.capitalize()} it is something else; you are asked first then." if said.left_over else ""
    return f"{said.low} to {said.high}, usually {said.usual}.{rest}"


def _option(one: ShownSuspect, said: ShownEstimate) -> paper.Option:
    """If it is this: its lines, and what it comes to at most."""
    totals = [paper.Total("Usually", one.usual), paper.Total("No more than", one.high, True)]
    title = f"{one.name[:1].upper()}{one.name[1:]}" + ("" if said.standing == "proved" else f", {one.odds}")
    return paper.Option(title, tuple(_line(line) for line in one.lines), tuple(totals), note=said.tax or None)


def _line(line: ShownLine) -> paper.PriceLine:
    span = line.usual if line.low == line.high else f"{line.low} to {line.high}, usually {line.usual}"
    return paper.PriceLine(
        line.name, line.usual, detail=None if line.low == line.high else span, standing=line.condition or None,
        quantity=str(line.quantity) if line.quantity > 1 else None,
    )


def approval(file: JobFile) -> paper.ApprovalSlip:
    """The last yes, as it was said.

    Raises:
        RefusedError: nobody said yes.
    """
    yes = [e for e in file.record.approvals if e.body.get("yes")]
    if not yes:
        raise RefusedError("nobody said yes", f"job {file.record.job}", "keep the yes first: firstpull job approve")
    last = yes[-1]
    said = kept_estimate(file.shop, file.record)
    who = str(last.body.get("who") or "") or None
    return paper.ApprovalSlip(
        head=file.head(last.when),
        approves={"find": "to find it", "mend": "to mend it", "scrap": "to scrap it"}.get(
            str(last.body.get("to")), str(last.body.get("to"))),
        up_to=file.own.money(_sum(file, last)),
        work=tuple(one.name for one in said.likely) if said and last.body.get("to") == "mend" else (),
        who=who,
        how=str(last.body.get("how") or "") or None,
        when=file.when(last.when),
        beyond=BEYOND,
        terms=file.own.words.terms,
        signers=file.signers("Who says yes", who),
    )


def _sum(file: JobFile, last: Event) -> Money | None:
    """The sum of this yes, or what stood agreed when it carried none."""
    return money_of(last.body.get("sum")) or agreed_on(file.record).limit


def bill(file: JobFile) -> paper.Bill:
    """What was done and what it costs; above the agreed sum nothing is charged.

    Raises:
        FirstpullError: a setting cannot be read.
    """
    record, found = file.record, show_bill(file.shop, file.record.job)
    totals = [paper.Total("Sum", found.net)]
    if found.tax is not None:
        totals.append(paper.Total(found.tax_words, found.tax))
    totals.append(paper.Total("All together", found.total, found.above is None))
    notes = list(found.warnings)
    if found.above is not None:
        totals += [paper.Total("Agreed, no more than", found.agreed), paper.Total("Charged", found.charged, True)]
        notes.append(f"{found.above} above the agreed sum is not charged without a new yes.")
    return paper.Bill(
        head=file.head(),
        to=file.addressed,
        facts=(
            paper.Fact("In", file.day(record.opened_at)),
            paper.Fact("Out", file.day(record.handed_back.when) if record.handed_back else None),
            paper.Fact("Agreed, no more than", found.agreed),
        ),
        lines=tuple(_billed(line) for line in found.lines),
        totals=tuple(totals),
        paid=_paid(file),
        warranty=warranty(file),
        measured=measured(file),
        fuel=fuel_left(file),
        refused=refused(file),
        notes=(*notes, *old_parts(file)),
    )


def _billed(line: BillLine) -> paper.PriceLine:
    return paper.PriceLine(
        line.name, line.amount, detail=line.detail or None, standing=line.condition or None,
        quantity=str(line.quantity) if line.quantity > 1 else None, running=line.running,
    )


def _paid(file: JobFile) -> str | None:
    gone = file.record.handed_back
    paid = file.own.money(money_of(gone.body.get("paid"))) if gone else None
    if gone is None or paid is None:
        return None
    how = str(gone.body.get("how_paid") or "")
    return ", ".join(x for x in (f"{paid} {how}".strip(), file.day(gone.when)) if x)
