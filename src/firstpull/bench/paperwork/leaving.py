"""Papers of the two doors: what goes home with a mended machine, and with one that was not mended."""

from __future__ import annotations

from firstpull import paper
from firstpull.base.errors import RefusedError
from firstpull.bench.billing import done_on, show_bill
from firstpull.bench.find import repairs_done
from firstpull.bench.ourselves import prices
from firstpull.bench.paperwork.file import JobFile
from firstpull.bench.paperwork.measured import measured
from firstpull.bench.paperwork.readings import readings
from firstpull.bench.picturing import Picture, pictures_for_owner
from firstpull.bench.release import Reported, door
from firstpull.bench.thinking.said import probabilities
from firstpull.safety.interlocks import red
from firstpull.workshop.estimate import PROVED
from firstpull.workshop.events import listed
from firstpull.workshop.parts import part_lines
from firstpull.workshop.saying import say_odds

MOST_CAUSES = 3
CAUSES_COVER = 0.9  # judgement: causes are named until nine in ten of the odds are covered
LEAST_CAUSE = 0.05
# Cautions of the handbook that a customer needs; each is printed only where the handbook holds it.
FOR_CUSTOMERS = ("lead-off-first", "fumes-kill")
STATEMENT = "I was told what is unsafe about this machine and take it home unmended, at my own wish."


def hand_over(file: JobFile) -> paper.HandOver:
    """What was wrong, how it was proved, what was measured and renewed, what was refused, and how to keep it well.

    Raises:
        RefusedError: the machine was not released as working.
    """
    record = file.record
    if record.release is None or record.release.body.get("way") != "working":
        raise RefusedError("not released as working", f"job {record.job}", "prove it and release it first")
    done = repairs_done(file.shop, record)
    names = ", ".join(dict.fromkeys(r.name for r in done))
    causes = _causes(file)
    gone = record.handed_back
    taker = str(gone.body.get("to") or "") if gone else ""
    return paper.HandOver(
        head=file.head(record.release.when),
        headline=f"Done to it: {names}. Released as working." if names else "Released as working; nothing was mended.",
        wrong=tuple(words for _, words in causes),
        proofs=tuple(_proof(file, p) for p in door(file.shop, record.job).proofs),
        measured=measured(file),
        renewed=_renewed(file),
        refused=refused(file),
        fuel=fuel_left(file),
        cautions=tuple(
            paper.Caution(c.text, c.more or None) for i in FOR_CUSTOMERS if (c := file.book.cautions.get(i)) is not None
        ),
        storing=tuple(dict.fromkeys(
            file.book.faults[f].prevent for f, _ in causes if file.book.faults[f].prevent
        )),
        warranty=warranty(file),
        signers=file.signers("Received by", taker or None),
        pictures=tuple(paper.Picture(data, _shows(file, p)) for p, data in pictures_for_owner(file.shop, record)),
    )


def _shows(file: JobFile, picture: Picture) -> str:
    """What a picture shows, in the words that were kept with it, and the day it was taken."""
    day = file.day(picture.when)
    return ", ".join(x for x in (picture.caption or "The machine on the bench", day) if x)


def _causes(file: JobFile) -> list[tuple[str, str]]:
    """What was wrong when it came in, of what was mended: the likeliest first, each with how sure that is."""
    if file.session is None:
        return []
    mended = {f for r in repairs_done(file.shop, file.record) for f in r.ends}
    causes = probabilities(file.shop, file.record, file.session)["cause"]
    odds = {f: p for f, p in causes.items() if f in mended and p >= LEAST_CAUSE}
    found: list[tuple[str, str]] = []
    held = 0.0
    for fault in sorted(odds, key=lambda f: (-odds[f], f))[:MOST_CAUSES]:
        if held >= CAUSES_COVER:
            break
        entry = file.book.faults[fault]
        sure = "" if odds[fault] >= PROVED else f" ({say_odds(odds[fault])})"
        found.append((fault, f"{entry.name}{sure}. {entry.plain}".strip()))
        held += odds[fault]
    return found


def _proof(file: JobFile, shown: Reported) -> paper.Proof:
    verdicts: dict[str, tuple[paper.Verdict, str | None]] = {
        "passed": ("proved", None), "failed": ("failed", None), "undecided": ("undecided", None),
        "missing": ("to-do", "Not shown"),
    }  # fmt: skip
    verdict, word = verdicts[shown.result]
    passed = sum(r == "passed" for r in shown.results)
    book = file.book
    check = book.checks[shown.check].name if shown.check in book.checks else book.name("complaint", shown.check)
    override = file.record.release.body.get("override") if file.record.release else None
    reason = str(override.get(shown.id) or "") if isinstance(override, dict) else ""
    how = f"{check}: passed {passed} of {shown.times}" if shown.results else None
    return paper.Proof(shown.name, " ".join(x for x in (how, reason) if x) or None, verdict, word)


def _renewed(file: JobFile) -> tuple[paper.Renewed, ...]:
    """Parts that went in, as they were written down."""
    return tuple(
        paper.Renewed(
            line.part, line.number or None,
            "the customer's own" if line.customers_own else line.condition or None, line.proof or None,
        )
        for line in part_lines(file.record.parts) if line.state == "fitted"
    )


def refused(file: JobFile) -> tuple[paper.Caution, ...]:
    """What is unsafe about it, and what was refused as unsafe, in the words they were recorded in."""
    record = file.record
    said = [*_release_words(file, "unsafe"), *(listed(record.handed_back.body.get("refused"))
                                               if record.handed_back else [])]
    return tuple(paper.Caution(text) for text in dict.fromkeys(said))


def _release_words(file: JobFile, key: str) -> list[str]:
    return listed(file.record.release.body.get(key)) if file.record.release else []


def fuel_left(file: JobFile) -> str | None:
    """The fuel it leaves with, as said at the hand-back; drained when the record has the tank drained."""
    gone = file.record.handed_back
    said = str(gone.body.get("fuel") or "") if gone else ""
    return said or ("Drained, none left in it" if file.drained else None)


def warranty(file: JobFile) -> tuple[str, ...]:
    """What the shop stands for, and the customer's own parts that it does not."""
    own = [x.part for x in part_lines(file.record.parts) if x.customers_own and x.state == "fitted"]
    return (*file.own.words.warranty, *(f"No promise on {part}: the customer brought it." for part in own))


def old_parts(file: JobFile) -> tuple[str, ...]:
    """What of the old parts went home."""
    gone = file.record.handed_back
    return tuple(f"Old part given back: {part}" for part in (listed(gone.body.get("old_parts")) if gone else []))


def returned(file: JobFile) -> paper.Returned:
    """How it leaves unmended: its state, what is missing, what is loose, what is unsafe about it.

    Raises:
        RefusedError: the machine was not returned unmended.
    """
    record = file.record
    if record.release is None or record.release.body.get("way") != "returned":
        raise RefusedError("not returned unmended", f"job {record.job}", "hand it back unmended first")
    state = file.session.state if file.session else None
    unsafe = [*_as_it_stands(file), *refused(file)]
    found = show_bill(file.shop, record.job)
    lead_off = state is not None and "plug-lead" in state.tokens
    return paper.Returned(
        head=file.head(record.release.when),
        reason=str(record.release.body.get("why") or "") or None,
        state=readings(file),
        missing=tuple(_release_words(file, "missing")),
        loose=tuple(listed(record.handed_back.body.get("loose_bits")) if record.handed_back else []),
        lead="Off the plug" if lead_off else None,
        fuel=fuel_left(file),
        unsafe=tuple(unsafe),
        lines=tuple(paper.PriceLine(x.name, x.amount, x.detail or None, running=x.running) for x in found.lines),
        totals=(paper.Total("Charged", found.charged, True),),
        reassembly=_reassembly(file),
        statement=STATEMENT if unsafe else None,
        signers=file.signers("Owner"),
    )


def _reassembly(file: JobFile) -> str:
    """What putting it back together costs, where the shop charges for it and something was taken apart."""
    asked = prices(file.shop)
    if asked.reassembly_fee is None or not done_on(file.shop, file.record).put_back:
        return "not charged"
    return f"{file.own.money(asked.with_tax(asked.reassembly_fee))}, in the sum above"


def _as_it_stands(file: JobFile) -> list[paper.Caution]:
    """What is off or still added and forbids a start, however it stands just now: the owner may put the rest back."""
    state = file.session.state if file.session else None
    if state is None:
        return []
    said = []
    if red(state.tokens):
        said.append(paper.Caution("The engine cannot be stopped as it stands.", "Do not start it."))
    for item in sorted(state.away):
        entry = state.items[item]
        if entry.forbids:
            said.append(paper.Caution(f"{entry.name}: {'still on it' if entry.added else 'off'}.", entry.forbids))
    return said
