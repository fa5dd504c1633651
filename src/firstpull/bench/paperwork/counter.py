"""Papers of the counter: the tag on the machine, and what the owner takes home."""

from __future__ import annotations

from firstpull import paper
from firstpull.bench.ourselves import charges, prices
from firstpull.bench.paperwork.file import JobFile
from firstpull.safety.interlocks import red


def tag(file: JobFile) -> paper.Tag:
    """The tag of a machine, the owner's stub, and one for each thing left with it."""
    record = file.record
    return paper.Tag(
        head=file.head(record.opened_at),
        danger=danger(file),
        fuel="Drained, none in it" if file.drained else None,
        place=record.place or None,
        promised=file.day(record.promised),
        link=link(file),
        left_with=record.left_with,
    )


def danger(file: JobFile) -> str | None:
    """What makes the machine dangerous as it stands."""
    state = file.session.state if file.session else None
    if state is not None and red(state.tokens):
        return "This engine cannot be stopped as it stands. Do not start it."
    release = file.record.release
    unsafe = [str(one) for one in release.body.get("unsafe") or []] if release else []
    return " ".join(unsafe) or ("Held as unsafe" if file.record.stage == "unsafe-held" else None)


def link(file: JobFile) -> str | None:
    """The address of the job's page, when the shop wrote down where its pages are."""
    address = file.own.words.address.rstrip("/")
    return f"{address}/job/{file.record.job}" if address else None


def receipt(file: JobFile) -> paper.Receipt:
    """What was left, what was said, what was agreed, on what terms."""
    record = file.record
    back = file.said("old_parts_back")
    others = [(k, v) for k, v in file.owner.items() if k not in ("name", "contact") and v]
    return paper.Receipt(
        head=file.head(record.opened_at),
        owner=(
            paper.Fact("Name", file.owner_name),
            paper.Fact("Reached at", str(file.owner.get("contact") or "") or None),
            paper.Fact("May say yes beside the owner", file.said("may_approve")),
            *(paper.Fact(str(k).replace("_", " ").capitalize(), str(v)) for k, v in others),
        ),
        machine=(
            paper.Fact("Kind", file.kind if record.machine_class else None),
            paper.Fact("Type plate", record.machine or None),
            paper.Fact("Hangs at", record.place or None),
        ),
        words=file.complaint,
        told=file.names("told", record.told),
        left_with=record.left_with,
        agreed=(
            paper.Fact("Ask before going over", file.own.money(record.spending_limit)),
            *_charged(file),
            paper.Fact("Promised", file.day(record.promised)),
            paper.Fact("Old parts back", None if back is None else "yes" if back else "no"),
        ),
        cautions=tuple(paper.Caution(text) for text in (danger(file),) if text),
        terms=file.own.words.terms,
        signers=file.signers("Owner"),
        link=link(file),
    )


def _charged(file: JobFile) -> list[paper.Fact]:
    """What the shop charges for finding, and for putting together what is declined."""
    asked, found = prices(file.shop), charges(file.shop)
    fee = file.own.money(asked.with_tax(asked.find_fee))
    words = f"{fee}, taken off the bill if it is mended" if found.fee_credited else fee
    facts = [paper.Fact("Finding it costs", words)]
    if asked.reassembly_fee is not None:
        back = file.own.money(asked.with_tax(asked.reassembly_fee))
        facts.append(paper.Fact("If it is declined", f"{back} for putting it back together"))
    return facts
