"""Pages of what is wrong and what is said about it: faults, complaints, told facts."""

from __future__ import annotations

from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.handbook.entries import Complaint, Fault, Told
from firstpull.handbook.pages.frame import Html, bullets, facts, joined, paragraph, section, table
from firstpull.handbook.pages.links import Links
from firstpull.handbook.pages.wording import amount, band, drawn, minutes, only_for, percent


def fault_page(links: Links, fault: Fault) -> Html:
    """A fault: what it is, how often it is met, what it does, what cures and prevents it."""
    cures = [repair.id for repair in links.book.repairs.values() if fault.id in repair.cures]
    rates = [
        ("any other machine" if name == "default" else links.to("machine", name), amount(rate))
        for name, rate in sorted(fault.rate.items(), key=lambda pair: (pair[0] == "default", pair[0]))
    ]
    moved = []
    for draw in fault.draws:
        parameter = PARAMETERS.get(draw.parameter)
        meaning, unit, source = (
            (parameter.meaning, parameter.unit, parameter.source) if parameter else (draw.parameter, "1", "")
        )
        moved.append((meaning, drawn(draw, unit), f"healthy range: {source}" if source else ""))
    told = [
        (links.to("told", name), f"{amount(factor)} times as likely") for name, factor in sorted(fault.told.items())
    ]
    kinds = {"operator": "a mistake in use", "workshop": "made in a workshop"}
    return joined(
        [
            paragraph(fault.plain),
            facts(
                [
                    ("Part", fault.part.replace("-", " ")),
                    ("Kind", kinds.get(fault.kind, "")),
                    ("Shows itself", f"{percent(fault.duty)} of the time" if fault.duty < 1 else ""),
                    (
                        "Only when hot",
                        f"above {amount(fault.hot_above_c, 'C')}" if fault.hot_above_c is not None else "",
                    ),
                    ("Can bring on", links.all_to("fault", fault.brings)),
                    ("Only for", only_for(fault.only)),
                ]
            ),
            section("What cures it", bullets(links.to("repair", one) for one in cures)),
            section("What prevents it", paragraph(fault.prevent)),
            section(
                "How often",
                table("Among 1,000 machines brought to a bench", ("Machine", "Of 1,000"), rates),
                paragraph("Given by: ", fault.source),
            ),
            section("What it does", table("What it moves", ("What", "To", "Source"), moved)),
            section("When the customer says", table("Told", ("Told", "Makes it"), told)),
        ]
    )


def complaint_page(_: Links, complaint: Complaint) -> Html:
    """A complaint: the words for it and what is heard behind them."""
    observable = OBSERVABLES.get(complaint.reads)
    unit = observable.unit if observable is not None else "1"
    meaning = observable.meaning if observable is not None else complaint.reads
    return joined(
        [
            section("What people say", bullets(complaint.phrases)),
            facts(
                [
                    ("Group", complaint.group),
                    ("Heard from", f"{meaning}: {band(complaint.start, complaint.below, unit)}"),
                    ("Said when it is so", percent(complaint.heard)),
                    ("Said when it is not", percent(complaint.false_alarm)),
                    ("Minutes to try", minutes(complaint.minutes)),
                    ("Engine", "hot" if complaint.thermal == "hot" else ""),
                    ("Choke", "" if complaint.choke == "open" else complaint.choke),
                    ("Load", "" if complaint.load == "none" else complaint.load),
                    ("Only for", only_for(complaint.only)),
                ]
            ),
        ]
    )


def told_page(links: Links, told: Told) -> Html:
    """A question to the customer and what the answer makes more or less likely."""
    factors = sorted(
        ((fault.told[told.id], fault.id) for fault in links.book.faults.values() if told.id in fault.told),
        reverse=True,
    )
    rows = [(links.to("fault", name), f"{amount(factor)} times as likely") for factor, name in factors]
    return joined(
        [
            section("Ask", paragraph(told.question)),
            section("What people say", bullets(told.phrases)),
            facts(
                [
                    (
                        "Minutes",
                        f"{minutes(told.minutes_counter)} at the counter, {minutes(told.minutes_phone)} by phone",
                    ),
                    ("Said of", f"{percent(told.common)} of machines"),
                    ("Only for", only_for(told.only)),
                ]
            ),
            section("Makes more or less likely", table("Faults", ("Fault", "Becomes"), rows)),
        ]
    )
