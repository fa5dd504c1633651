"""Which parameters the checks of a book can notice, by asking the engine what each observable depends on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Drive, Thermal
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook


@dataclass(frozen=True)
class Noticed:
    """What the checks of a class depend on, and what of them the engine cannot answer yet (observable to reason)."""

    parameters: frozenset[str]
    unanswered: Mapping[str, str]


def noticed(mine: ClassBook) -> Noticed:
    """The parameters on which some check of this class depends, by eye or through the engine."""
    seen: set[str] = set()
    asked: dict[Arrangement, set[str]] = {}
    unanswered: dict[str, str] = {}
    for check in mine.checks.values():
        for reading in check.readings:
            if reading.model == "eye-and-hand":
                seen |= {reading.reads, *(o.reads for o in reading.outcomes if o.reads is not None)} - {""}
        for arrangement in _arrangements(mine, check):
            asked.setdefault(arrangement, set()).update(observables(check))
    for arrangement, names in asked.items():
        seen |= _depends(mine.sizes, arrangement, sorted(names), unanswered)
    return Noticed(frozenset(seen), unanswered)


def observables(check: Check) -> list[str]:
    """The observables that a check reads through an instrument."""
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


def _depends(
    sizes: Mapping[str, float | str], arrangement: Arrangement, names: list[str], unanswered: dict[str, str]
) -> frozenset[str]:
    # Physics is heavy, and only this question needs it.
    from firstpull.engine.predict import needed

    found: frozenset[str] = frozenset()
    for name in names:
        try:
            found |= needed(sizes, arrangement, [name])[0]
        except FirstpullError as error:
            unanswered[name] = error.what
    return found
