"""Everything that could be done next: each check in each arrangement worth considering, each repair.

An option names what must be off and on; how to get there from how the machine stands is worked out when it is priced.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import Literal

from firstpull.engine.vocabulary.types import Arrangement, Choke, Drive, Load, Thermal
from firstpull.handbook.entries import Check, DriveWay, Needs, Repair
from firstpull.handbook.select import ClassBook
from firstpull.safety.interlocks import Deed, must_rest

Kind = Literal["check", "repair"]
MOST_REMEMBERED = 16_384  # checks of all classes whose options are worked out once
OWN_ADDED = ("control-held", "outdoors", "wheels-chocked")


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that could be done, how the machine must stand for it, and what moves while it is done."""

    kind: Kind
    id: str
    off: frozenset[str]
    on: frozenset[str]
    deed: Deed
    drive: Drive = "none"
    thermal: Thermal = "cold"
    choke: Choke = "open"
    load: Load = "none"
    minutes: float = 0.0
    waiting: float = 0.0
    cautions: tuple[str, ...] = ()


def deed_of(check: Check, drive: str) -> Deed:
    """What a check does with the engine: leaves it still, spins it, runs it."""
    if check.runs:
        return Deed("run", "running", check.hazard)
    if check.spins or drive != "none":
        return Deed("spin", drive, check.hazard, sparks=check.hazard == "spark")
    return Deed("still", "none", check.hazard)


def check_options(book: ClassBook, check: Check) -> Iterator[Option]:
    """A check in every way of spinning the engine and with each varied item off and on.

    Ways that contradict themselves (an item needed off and on at once) are left out.
    """
    if book.checks.get(check.id) is check:
        yield from _of_the_book(book, check.id)
    else:
        yield from _options(book, check)


@lru_cache(maxsize=MOST_REMEMBERED)
def _of_the_book(book: ClassBook, name: str) -> tuple[Option, ...]:
    return tuple(_options(book, book.checks[name]))


def _options(book: ClassBook, check: Check) -> Iterator[Option]:
    ways: list[DriveWay | None] = [None]
    if check.spins:
        ways = [w for w in book.drives if w.drive in check.drives] if check.drives else [
            w for w in book.drives if w.drive != "lazy-rope"
        ]
    for way in ways:
        for positions in product(*(("off", "on") for _ in check.varies)):
            option = _option(book, check, way, dict(zip(check.varies, positions, strict=True)))
            if option is not None:
                yield option


def _option(book: ClassBook, check: Check, way: DriveWay | None, varied: dict[str, str]) -> Option | None:
    drive: Drive = "running" if check.runs else way.drive if way else "none"
    deed = deed_of(check, drive)
    off, on = _wanted(book, [check.needs, check.wants] + ([way.needs] if way else []))
    off |= {i for i, p in varied.items() if p == "off"}
    on |= {i for i, p in varied.items() if p == "on"}
    off, on = _rested(book, deed, off, on)
    if off & on:
        return None
    return Option(
        "check", check.id, off, on, deed, drive,
        "hot" if check.thermal == "hot" else "cold", check.choke, check.load,
        check.minutes + (way.minutes if way else 0.0), check.waiting,
        tuple(dict.fromkeys((*check.cautions, *(way.cautions if way else ())))),
    )


def repair_option(book: ClassBook, repair: Repair) -> Option:
    """A repair as an option; it never turns the engine by itself."""
    off, on = _wanted(book, [repair.needs])
    return Option("repair", repair.id, frozenset(off), frozenset(on), Deed("still", "none", repair.hazard),
                  minutes=repair.minutes, waiting=repair.waiting, cautions=repair.cautions)


def _wanted(book: ClassBook, needs: list[Needs]) -> tuple[frozenset[str], frozenset[str]]:
    off = frozenset(i for n in needs for i in n.off if i in book.access)
    on = frozenset(i for n in needs for i in n.on if i in book.access)
    return off, on


def _rested(
    book: ClassBook, deed: Deed, off: frozenset[str], on: frozenset[str]
) -> tuple[frozenset[str], frozenset[str]]:
    """Add what must be at rest for a deed, unless the option itself needs it away."""
    rest = must_rest(deed)
    for item, entry in book.access.items():
        if not rest & frozenset(entry.tokens) or item in off or item in on:
            continue
        if entry.added:
            off |= {item}
        else:
            on |= {item}
    return off, on


def arrangement_of(book: ClassBook, option: Option, away: frozenset[str] = frozenset()) -> Arrangement:
    """The arrangement a reading of this option would be taken in, from how the machine stands now."""
    access = book.access
    left = away - option.off - option.on
    out = [*left, *(i for i in option.off if not access[i].added), *(i for i in option.on if access[i].added)]
    off = frozenset(t for i in out if not access[i].added for t in access[i].tokens)
    added = frozenset(t for i in out if access[i].added for t in access[i].tokens)
    return Arrangement(off, added, option.drive, option.thermal, option.choke, option.load)


def reading_mark(book: ClassBook, check: Check, place: Arrangement) -> tuple[object, ...]:
    """What makes a reading the same reading again: check, drive, warmth, and the items it varies."""
    tokens = {t for i in check.varies for t in book.access[i].tokens}
    return (check.id, place.drive, place.thermal, frozenset((place.off | place.added) & tokens))
