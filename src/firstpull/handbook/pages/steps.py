"""Pages of what is done to a machine: checks, repairs, access, drives. Cautions always come before the how-to."""

from __future__ import annotations

from collections.abc import Sequence

from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.handbook.entries import Access, Check, DriveWay, Needs, Reading, Repair
from firstpull.handbook.pages.figures import by_machine
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


def inherited(links: Links, needs: Needs, own: Sequence[str]) -> tuple[str, ...]:
    """A step's cautions, and those of everything that must be moved for it from a whole machine, each once."""
    access = links.book.access
    waiting = _moved(links, needs)
    for item in waiting:
        waiting += [first for first in _moved(links, access[item].first) if first not in waiting]
    return tuple(dict.fromkeys((*own, *(caution for item in waiting for caution in access[item].cautions))))


def _moved(links: Links, needs: Needs) -> list[str]:
    access = links.book.access
    off = [item for item in needs.off if item in access and not access[item].added]
    return off + [item for item in needs.on if item in access and access[item].added]


def check_page(links: Links, check: Check) -> Html:
    """A check: cautions, what it needs, how, what may be read, what makes it unreliable."""
    return joined(
        [
            cautions(links, inherited(links, check.needs, check.cautions), check.hazard),
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
    caption = reading.key or "Reading"
    if entry is not None:  # the first sentence; what follows is for those who set up the engine
        caption += f": {entry.meaning.partition('. ')[0]}"
    rows = []
    for outcome in reading.outcomes:
        heard = vocabulary.get(outcome.reads or "")
        where = band(outcome.start, outcome.below, reading.unit) + (f" ({heard.meaning})" if heard is not None else "")
        rows.append((outcome.name, where, ", ".join(outcome.also)))
    shift = percent(reading.scatter) if reading.scale == "log" else amount(reading.scatter, reading.unit)
    how = f"From try to try it moves by about {shift}." if reading.scatter else ""
    if reading.model == "eye-and-hand":
        how = f"Misjudged about {percent(reading.false_alarm)} of the time."
    return joined(
        [
            table(caption, ("Outcome", "When", "Also said"), rows),
            paragraph(how),
            by_machine(links, reading.spec, "What it should be"),
        ]
    )


def repair_page(links: Links, repair: Repair) -> Html:
    """A repair: cautions, what it cures, parts, how, values to write down, proof."""
    locked = (
        "Locked: only when the shop has switched it on and everything before it is proved." if repair.locked else ""
    )
    parts = [(part.name, amount(part.low), amount(part.usual), amount(part.high)) for part in repair.parts]
    values = [(value.name, value.unit, "must be written down" if value.must else "if known") for value in repair.values]
    ranges = [by_machine(links, v.spec, f"{v.name}: what it should be") for v in repair.values if v.spec is not None]
    check = links.book.checks.get(repair.proof.check)
    names = {o.id: o.name for reading in check.readings for o in reading.outcomes} if check is not None else {}
    shown = " or ".join(names.get(one, one) for one in repair.proof.outcomes)
    return joined(
        [
            cautions(links, inherited(links, repair.needs, repair.cautions), repair.hazard),
            paragraph(tag("strong", locked)) if locked else Html(""),
            facts(
                [
                    ("Cures", links.all_to("fault", repair.cures)),
                    ("Ends besides", links.all_to("fault", repair.besides)),
                    ("Minutes", minutes(repair.minutes, repair.waiting)),
                    ("Must be", links.needs(repair.needs)),
                    ("Only after reading", links.all_to("check", repair.after)),
                    ("Or, for one that cannot be read, after", links.all_to("repair", tuple(repair.instead.values()))),
                    ("Chance that it takes", percent(repair.takes)),
                    ("Only for", only_for(repair.only)),
                ]
            ),
            section("Parts", table("Prices, no currency", ("Part", "Low", "Usual", "High"), parts)),
            section("How", bullets(repair.how, "ol", "how")),
            section("Write down", table("Values set", ("Value", "Unit", "Needed"), values), *ranges),
            section("Proof", paragraph(links.to("check", repair.proof.check), " shows: ", shown)),
            section("Out of habit", paragraph(repair.habit)),
        ]
    )


def access_page(links: Links, item: Access) -> Html:
    """A thing that comes off or is added: cautions, minutes, what comes first, what it forbids."""
    words = ("Take off again", "Fit") if item.added else ("Take off", "Put back")
    rows = [("usually", minutes(item.off_minutes), minutes(item.on_minutes))]
    rows += [(links.to("machine", name), minutes(off), minutes(on)) for name, (off, on) in item.by_class.items()]
    return joined(
        [
            cautions(links, inherited(links, item.first, item.cautions)),
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
    return joined(
        [
            cautions(links, inherited(links, way.needs, way.cautions), "turns"),
            facts(
                [
                    ("Must be", links.needs(way.needs)),
                    ("Minutes to set up", minutes(way.minutes) if way.minutes else ""),
                    ("Only for", only_for(way.only)),
                ]
            ),
        ]
    )
