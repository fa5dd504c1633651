"""Pages of instruments, cautions, release proofs and machine classes."""

from __future__ import annotations

from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.handbook.entries import Caution, Instrument, MachineClass, ReleaseProof, Retired
from firstpull.handbook.pages.figures import by_machine
from firstpull.handbook.pages.frame import Html, bullets, facts, joined, paragraph, section, table, tag
from firstpull.handbook.pages.links import Links
from firstpull.handbook.pages.wording import amount, drawn, only_for, percent, range_of
from firstpull.handbook.select import for_class


def instrument_page(_: Links, tool: Instrument) -> Html:
    """An instrument and how far it can be trusted."""
    return facts(
        [
            ("Unit", "" if tool.unit == "1" else tool.unit),
            ("Smallest step", amount(tool.resolution, tool.unit) if tool.resolution else ""),
            ("Noise", amount(tool.noise, tool.unit) if tool.noise else ""),
            ("Noise, of the reading", percent(tool.relative) if tool.relative else ""),
            ("Off by, the same every time", amount(tool.bias, tool.unit) if tool.bias else ""),
            ("Misread altogether", f"{percent(tool.blunder)} of the time"),
            ("In a usual shop", "yes" if tool.usual else "no"),
            (
                "Set-up",
                ", ".join(f"{name.replace('_', ' ')} {amount(value)}" for name, value in tool.setup.items()),
            ),
        ]
    )


def caution_page(_: Links, caution: Caution) -> Html:
    """One caution and every step that begins with it."""
    return joined(
        [
            paragraph(tag("strong", "Danger.")) if caution.danger else Html(""),
            paragraph(caution.more),
            paragraph("Told again at every step, however often it was ticked.") if caution.repeat else Html(""),
        ]
    )


def release_page(links: Links, release: ReleaseProof) -> Html:
    """What must be shown before a machine leaves."""
    check = links.book.checks.get(release.check)
    names = {o.id: o.name for reading in check.readings for o in reading.outcomes} if check is not None else {}
    return joined(
        [
            paragraph("Without it the machine does not leave as working.") if release.safety else Html(""),
            facts(
                [
                    ("Shown by", links.to("check", release.check)),
                    ("Reading", " or ".join(names.get(one, one) for one in release.outcomes)),
                    ("Times", amount(release.times)),
                    ("Only after work on", ", ".join(part.replace("-", " ") for part in release.after_parts)),
                    ("Only for", only_for(release.only)),
                ]
            ),
            section("Figures", by_machine(links, release.spec, "What it should be")),
        ]
    )


def machine_page(links: Links, machine: MachineClass) -> Html:
    """A class of machine: figures, sizes, what is met most often."""
    mine = for_class(links.book, machine.id)
    often = sorted(mine.faults, key=lambda name: (-mine.rates[name], name))
    low, usual, high = machine.worth
    sizes = [
        (
            SIZES[name].meaning if name in SIZES else name,
            value if isinstance(value, str) else amount(value, SIZES[name].unit),
        )
        for name, value in machine.sizes.items()
    ]
    healthy = []
    for own in machine.healthy:
        parameter = PARAMETERS[own.parameter]
        healthy.append((parameter.meaning, drawn(own, parameter.unit), own.source))
    specs = [(spec.name, range_of(spec), spec.standing, spec.source) for spec in machine.specs]
    return joined(
        [
            facts(
                [
                    ("Also called", ", ".join(machine.phrases)),
                    ("Worth", f"{amount(low)} to {amount(high)}, usually {amount(usual)}"),
                ]
            ),
            section(
                "Figures",
                paragraph("The maker's manual for the machine on the bench goes before these."),
                table("Specification", ("Figure", "Range", "Standing", "Source"), specs),
            ),
            section("What is met, most often first", bullets((links.to("fault", name) for name in often), "ol")),
            section("Sizes", table("Of the engine and what it drives", ("Size", "Value"), sizes)),
            section(
                "When healthy",
                table("Where it differs from other machines", ("What", "Range", "Source"), healthy),
            ),
            section("Not covered", paragraph(machine.outside)),
        ]
    )


def retired_page(links: Links, old: Retired) -> Html:
    """An id that old jobs still name."""
    now = links.book.today(old.kind, old.id)
    return facts(
        [
            ("Was a", old.kind),
            ("Since", old.since),
            ("Now", links.to(old.kind, now) if now is not None else "nothing took its place"),
        ]
    )
