"""What a reading reads, in which unit, and whether its bands cover the whole line without gap or overlap."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from firstpull.base.errors import InputError
from firstpull.base.quantity import UNITS, unit
from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.engine.vocabulary.types import Observable, Parameter
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check, Complaint, Outcome, Reading
from firstpull.handbook.findings import Finding, Key, nearest
from firstpull.handbook.references import dangling

# Every check may also be answered so; no outcome may have these ids.
UNIVERSAL = ("now-and-then", "not-possible", "not-done")


def errors(book: Book) -> Iterator[Finding]:
    """Faults in the readings of checks and in the bands of complaints."""
    for check in book.checks.values():
        yield from _keys(check)
        for index, reading in enumerate(check.readings):
            yield from _reading(book, check, reading, ("reading", index))
    for complaint in book.complaints.values():
        yield from _complaint(complaint)


def kind_of(name: str) -> str | None:
    """What a unit measures; None when there is no such unit."""
    try:
        return unit(name).kind
    except InputError:
        return None


def unit_fault(kind: str, name: str, key: Key, found: str, wanted: str | None) -> Iterator[Finding]:
    """The finding for a unit that is unknown, or that measures something else than the wanted unit."""
    measures = kind_of(found)
    if measures is None:
        yield Finding(kind, name, key, f"'{found}' is not a unit", nearest(found, UNITS))
    elif wanted is not None and (other := kind_of(wanted)) not in (None, measures):
        same = ", ".join(sorted(u.name for u in UNITS.values() if u.kind == other))
        yield Finding(kind, name, key, f"'{found}' is a {measures}, and what is read is a {other}", f"one of {same}")


def _keys(check: Check) -> Iterator[Finding]:
    keys = [reading.key for reading in check.readings]
    for index, key in enumerate(keys):
        place = ("reading", index, "key")
        if key is None and len(keys) > 1:
            yield Finding("check", check.id, place, "one of several readings has no key", 'key = "loss", for example')
        elif key is not None and keys.index(key) != index:
            yield Finding("check", check.id, place, f"two readings have the key '{key}'", "one key, one reading")


def _reading(book: Book, check: Check, reading: Reading, key: Key) -> Iterator[Finding]:
    def wrong(place: Key, what: str, right: str) -> Finding:
        return Finding("check", check.id, (*key, *place), what, right)

    ids = [outcome.id for outcome in reading.outcomes]
    for index, outcome in enumerate(reading.outcomes):
        place = ("outcomes", index, "id")
        if outcome.id in UNIVERSAL:
            yield wrong(place, f"'{outcome.id}' may be said of every check", "leave it out")
        if outcome.id in ids[:index]:
            yield wrong(place, f"two outcomes are named '{outcome.id}'", "one id, one outcome")
    if reading.several:
        yield from _several(check, reading, key)
        return
    for index, outcome in enumerate(reading.outcomes):
        if outcome.reads is not None:
            yield wrong(("outcomes", index, "reads"), "an outcome reads for itself", "only where several = true")
    if not reading.reads:
        yield wrong(("reads",), "'reads' is missing", "the observable or parameter that is read")
    else:
        yield from _reads(check, reading, reading.reads, (*key, "reads"), (*key, "unit"))
    yield from _line(reading.outcomes, check.id, key)
    if reading.scale == "log" and any(o.start is not None and o.start <= 0 for o in reading.outcomes):
        yield wrong(("scale",), "a band begins at or below zero, which has no logarithm", 'scale = "linear"')
    instrument = book.instruments.get(check.instrument)
    if reading.model == "gauge" and reading.number and instrument is not None and instrument.unit != "1":
        yield from unit_fault("check", check.id, (*key, "unit"), reading.unit, instrument.unit)


def _several(check: Check, reading: Reading, key: Key) -> Iterator[Finding]:
    if reading.reads:
        yield Finding(
            "check", check.id, (*key, "reads"), "it reads, and so does each outcome", "leave 'reads' out here"
        )
    for index, outcome in enumerate(reading.outcomes):
        place = (*key, "outcomes", index)
        if outcome.reads is None:
            yield Finding("check", check.id, place, f"outcome '{outcome.id}' reads nothing", "its own reads and from")
            continue
        yield from _reads(check, reading, outcome.reads, (*place, "reads"), (*key, "unit"))
        if outcome.start is None and outcome.below is None:
            right = "the value from which it is noticed, from = ..."
            yield Finding("check", check.id, place, f"outcome '{outcome.id}' has no band", right)


def _reads(check: Check, reading: Reading, word: str, place: Key, unit_place: Key) -> Iterator[Finding]:
    vocabulary: Mapping[str, Observable | Parameter] = OBSERVABLES if reading.model == "gauge" else PARAMETERS
    target = "observable" if reading.model == "gauge" else "parameter"
    if word not in vocabulary:
        yield dangling("check", check.id, place, word, target, vocabulary)
        return
    yield from unit_fault("check", check.id, unit_place, reading.unit, vocabulary[word].unit)


def _line(outcomes: tuple[Outcome, ...], name: str, key: Key) -> Iterator[Finding]:
    def wrong(index: int, what: str, right: str) -> Finding:
        return Finding("check", name, (*key, "outcomes", index), what, right)

    last = len(outcomes) - 1
    if outcomes[0].start is not None:
        yield wrong(0, f"nothing is said below {outcomes[0].start:g}", "the first band has no 'from'")
    if outcomes[last].below is not None:
        yield wrong(last, f"nothing is said from {outcomes[last].below:g} up", "the last band has no 'below'")
    for index, (lower, upper) in enumerate(itertools.pairwise(outcomes), start=1):
        if lower.below is None or upper.start is None:
            right = f"'below' of '{lower.id}' and 'from' of '{upper.id}' are the same number"
            yield wrong(index, f"no border between '{lower.id}' and '{upper.id}'", right)
        elif lower.below != upper.start:
            fault = "a gap" if lower.below < upper.start else "an overlap"
            what = f"{fault} between '{lower.id}' below {lower.below:g} and '{upper.id}' from {upper.start:g}"
            yield wrong(index, what, f"from = {lower.below:g}")
    for index, outcome in enumerate(outcomes):
        if outcome.start is not None and outcome.below is not None and outcome.below <= outcome.start:
            what = f"'{outcome.id}' runs from {outcome.start:g} to below {outcome.below:g}"
            yield wrong(index, what, "the smaller number first, lower bands first")


def _complaint(complaint: Complaint) -> Iterator[Finding]:
    if complaint.reads not in OBSERVABLES:
        yield dangling("complaint", complaint.id, ("reads",), complaint.reads, "observable", OBSERVABLES)
    if complaint.start is None and complaint.below is None:
        what = "it never says when it would be said"
        yield Finding("complaint", complaint.id, (), what, "'from', 'below' or both")
    elif complaint.start is not None and complaint.below is not None and complaint.below <= complaint.start:
        what = f"it runs from {complaint.start:g} to below {complaint.below:g}"
        yield Finding("complaint", complaint.id, ("from",), what, "the smaller number first")
