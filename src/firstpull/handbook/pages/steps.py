"""Pages of what is done to a machine: checks, repairs, access, drives. Cautions always come before the how-to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.handbook.entries import Access, Check, DriveWay, Reading, Repair
from firstpull.handbook.pages.frame import Html, bullets, facts, joined, paragraph, section, table, tag
from firstpull.handbook.pages.links import Links
from firstpull.handbook.pages.wording import amount, band, minutes, only_for, percent

_HAZARDS = {
    "turns": "something turns",
    "spark": "sparks and high voltage",
    "fuel": "fuel is open",
    "pressure": "pressure",
    "running": "the engine runs",
    "blade": "a blade or tool",
    "mains": "mains voltage",
    "heat": "heat",
}


def cautions(links: Links, ids: Sequence[str], hazard: str = "none") -> Html:
    """The sentences that must be read before anything is done."""
    book = links.book
    lines = [paragraph(tag("strong", f"Danger: {_HAZARDS[hazard]}."))] if hazard in _HAZARDS else []
    known = [book.cautions[one] for one in ids if one in book.cautions]
    for caution in sorted(known, key=lambda one: not one.danger):
        text = tag("strong", links.to("caution", caution.id)) if caution.danger else links.to("caution", caution.id)
        lines.append(paragraph(text, f" {caution.more}" if caution.more else ""))
    return tag("section", tag("h2", "First"), *lines, class_="cautions", aria_label="Cautions") if lines else Html("")


def inherited(links: Links, items: Iterable[str], own: Sequence[str]) -> tuple[str, ...]:
    """A step's cautions, and those of everything that must be moved for it, each once."""
    access = links.book.access
    waiting = [item for item in items if item in access]
    seen: dict[str, None] = dict.fromkeys(waiting)
    for item in waiting:
        for first in (*access[item].first.off, *access[item].first.on):
            if first in access and first not in seen:
                seen[first] = None
                waiting.append(first)
    return tuple(dict.fromkeys((*own, *(caution for item in seen for caution in access[item].cautions))))


def check_page(links: Links, check: Check) -> Html:
    """A check: cautions, what it needs, how, what may be read, what makes it unreliable."""
    before = (*check.needs.off, *check.needs.on)
    return joined(
        [
            cautions(links, inherited(links, before, check.cautions), check.hazard),
            section("Rather", links.all_to("check", check.safer), ": safer, and told first")
            if check.safer
            else Html(""),
            facts(
                [
                    ("Minutes", minutes(check.minutes, check.waiting)),
                    ("With", links.to("instrument", check.instrument)),
                    ("Must be", links.needs(check.needs)),
                    ("Should be, for the reading to mean anything", links.needs(check.wants)),
                    ("Worth doing again with the other state of", links.all_to("access", check.varies)),
                    ("Turned by", ", ".join(check.drives) or "whatever turns it" if check.spins else ""),
                    ("Engine", "runs" if check.runs else ""),
                    ("Warm or cold", {"hot": "hot, after running", "cold": "cold"}.get(check.thermal, "")),
                    ("Choke", "" if check.choke == "open" else check.choke),
                    ("Load", "" if check.load == "none" else check.load),
                    ("Tries", amount(check.tries) if check.tries > 1 else ""),
                    ("Only for", only_for(check.only)),
                ]
            ),
            section("How", bullets(check.how, "ol", "how")),
            section("What may be read", *(_reading(links, reading) for reading in check.readings)),
            section("What makes it unreliable", paragraph(check.unreliable)),
            section("Out of habit", paragraph(check.habit)),
        ]
    )


def _reading(links: Links, reading: Reading) -> Html:
    vocabulary = OBSERVABLES if reading.model == "gauge" else PARAMETERS
    entry = vocabulary.get(reading.reads)
    caption = f"{reading.key or 'Reading'}: {entry.meaning}" if entry is not None else reading.key or "Reading"
    rows = []
    for outcome in reading.outcomes:
        heard = vocabulary.get(outcome.reads or "")
        where = band(outcome.start, outcome.below, reading.unit) + (f" ({heard.meaning})" if heard is not None else "")
        rows.append((outcome.name, where, ", ".join(outcome.also)))
    shift = percent(reading.scatter) if reading.scale == "log" else amount(reading.scatter, reading.unit)
    how = f"From try to try it moves by about {shift}." if reading.scatter else ""
    if reading.model == "eye-and-hand":
        how = f"Misjudged about {percent(reading.false_alarm)} of the time."
    spec = [
        joined([links.to("machine", machine.id)])
        for machine in links.book.machines.values()
        if any(one.id == reading.spec for one in machine.specs)
    ]
    figures = paragraph("Figures: ", joined(spec, ", ")) if spec else Html("")
    return joined([table(caption, ("Outcome", "When", "Also said"), rows), paragraph(how), figures])


def repair_page(links: Links, repair: Repair) -> Html:
    """A repair: cautions, what it cures, parts, how, values to write down, proof."""
    before = (*repair.needs.off, *repair.needs.on)
    locked = (
        "Locked: only when the shop has switched it on and everything before it is proved." if repair.locked else ""
    )
    parts = [(part.name, amount(part.low), amount(part.usual), amount(part.high)) for part in repair.parts]
    values = [(value.name, value.unit, "must be written down" if value.must else "if known") for value in repair.values]
    outcomes = {
        o.id: o.name
        for c in links.book.checks.values()
        for r in c.readings
        for o in r.outcomes
        if c.id == repair.proof.check
    }
    proof = [links.to("check", repair.proof.check), " shows: "]
    return joined(
        [
            cautions(links, inherited(links, before, repair.cautions), repair.hazard),
            paragraph(tag("strong", locked)) if locked else Html(""),
            facts(
                [
                    ("Cures", links.all_to("fault", repair.cures)),
                    ("Minutes", minutes(repair.minutes, repair.waiting)),
                    ("Must be", links.needs(repair.needs)),
                    ("Takes", percent(repair.takes)),
                    ("Only for", only_for(repair.only)),
                ]
            ),
            section("Parts", table("Prices, no currency", ("Part", "Low", "Usual", "High"), parts)),
            section("How", bullets(repair.how, "ol", "how")),
            section("Write down", table("Values set", ("Value", "Unit", ""), values)),
            section("Proof", paragraph(*proof, " or ".join(outcomes.get(o, o) for o in repair.proof.outcomes))),
        ]
    )


def access_page(links: Links, item: Access) -> Html:
    """A thing that comes off or is added: cautions, minutes, what comes first, what it forbids."""
    words = ("Take off again", "Fit") if item.added else ("Take off", "Put back")
    rows = [("usually", minutes(item.off_minutes), minutes(item.on_minutes))]
    rows += [(links.to("machine", name), minutes(off), minutes(on)) for name, (off, on) in item.by_class.items()]
    return joined(
        [
            cautions(links, inherited(links, (*item.first.off, *item.first.on), item.cautions)),
            section("Forbids", paragraph(tag("strong", item.forbids))) if item.forbids else Html(""),
            facts(
                [
                    ("Kind", "added by us" if item.added else "belongs to the machine"),
                    ("Before it is moved", links.needs(item.first)),
                    ("Only for", only_for(item.only)),
                ]
            ),
            table("Minutes", ("Machine", *words), rows),
        ]
    )


def drive_page(links: Links, way: DriveWay) -> Html:
    """A way of spinning an engine."""
    before = (*way.needs.off, *way.needs.on)
    return joined(
        [
            cautions(links, inherited(links, before, way.cautions), "turns"),
            facts(
                [
                    ("Must be", links.needs(way.needs)),
                    ("Minutes to set up", minutes(way.minutes) if way.minutes else ""),
                    ("Only for", only_for(way.only)),
                ]
            ),
        ]
    )
