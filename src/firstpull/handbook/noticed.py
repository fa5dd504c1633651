"""Which parameters the checks of a book can notice, by asking the engine what each observable depends on."""

from __future__ import annotations

from collections.abc import Mapping

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Drive, Thermal
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook, for_class


def moved_unseen(book: Book) -> list[str]:
    """Faults that on some class of machine move nothing that any check there depends on."""
    unseen: dict[str, None] = {}
    for machine in book.machines:
        mine = for_class(book, machine)
        seen = noticed(mine)
        for fault in mine.faults.values():
            if fault.draws and not any(draw.parameter in seen for draw in fault.draws):
                unseen[fault.id] = None
    return list(unseen)


def unread_observables(book: Book) -> list[tuple[str, str]]:
    """Checks and the observables they read for which the engine has no rule."""
    from firstpull.engine import wiring  # noqa: F401  registers the rules; loaded only when somebody asks
    from firstpull.engine.machine import RULES

    return [
        (check.id, name) for check in book.checks.values() for name in _observables(check) if name not in RULES
    ]


def noticed(mine: ClassBook) -> frozenset[str]:
    """The parameters on which some check of this class depends, by eye or through the engine."""
    seen: set[str] = set()
    asked: dict[Arrangement, set[str]] = {}
    for check in mine.checks.values():
        for reading in check.readings:
            if reading.model == "eye-and-hand":
                seen |= {reading.reads, *(o.reads for o in reading.outcomes if o.reads is not None)} - {""}
        for arrangement in _arrangements(mine, check):
            asked.setdefault(arrangement, set()).update(_observables(check))
    for arrangement, names in asked.items():
        seen |= _depends(mine.sizes, arrangement, sorted(names))
    return frozenset(seen)


def _observables(check: Check) -> list[str]:
    words = [
        word
        for reading in check.readings
        if reading.model == "gauge"
        for word in (reading.reads, *(o.reads or "" for o in reading.outcomes))
    ]
    return [word for word in dict.fromkeys(words) if word in OBSERVABLES]


def _arrangements(mine: ClassBook, check: Check) -> list[Arrangement]:
    """The arrangement that a check asks for with every drive, and with each varied item the other way round."""
    off = {*check.needs.off, *check.wants.off}
    on = {*check.needs.on, *check.wants.on}
    drives: list[Drive] = ["none"]
    if check.spins:
        drives = [way.drive for way in mine.drives if not check.drives or way.drive in check.drives]
    elif check.runs:
        drives = ["running"]
    found = []
    for varied in ((), *((item,) for item in check.varies)):
        gone = _tokens(mine, [i for i in {*off, *varied} if i in mine.access and not mine.access[i].added])
        fitted = _tokens(mine, [i for i in {*on, *varied} if i in mine.access and mine.access[i].added])
        thermal: Thermal = "hot" if check.thermal == "hot" else "cold"
        found += [
            Arrangement(frozenset(gone), frozenset(fitted), drive, thermal, check.choke, check.load) for drive in drives
        ]
    return found


def _tokens(mine: ClassBook, items: list[str]) -> set[str]:
    return {token for item in items for token in mine.access[item].tokens}


def _depends(sizes: Mapping[str, float | str], arrangement: Arrangement, names: list[str]) -> frozenset[str]:
    from firstpull.engine.predict import needed  # physics is heavy and only this question needs it

    found: frozenset[str] = frozenset()
    for name in names:
        try:
            found |= needed(sizes, arrangement, [name])
        except FirstpullError:
            continue  # told by unread_observables
    return found
