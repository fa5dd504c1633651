"""Specification figures of every class that has one."""

from __future__ import annotations

from firstpull.handbook.pages.frame import Html, table
from firstpull.handbook.pages.links import Links
from firstpull.handbook.pages.wording import range_of


def by_machine(links: Links, spec_id: str | None, caption: str) -> Html:
    """The figure of this id for each class, with its standing and source; nothing when no class has one."""
    rows = [
        (links.to("machine", machine.id), range_of(spec), spec.standing, spec.source)
        for machine in links.book.machines.values()
        for spec in machine.specs
        if spec.id == spec_id
    ]
    return table(caption, ("Machine", "Range", "Standing", "Source"), rows)
