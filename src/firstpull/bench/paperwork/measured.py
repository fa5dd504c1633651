"""Values and readings against the specification, each with the spread of what it was read with."""

from __future__ import annotations

import math
from dataclasses import dataclass

from firstpull import paper
from firstpull.base.errors import FirstpullError
from firstpull.bench.paperwork.file import JobFile
from firstpull.bench.reading import read_values
from firstpull.gauges.acceptance import accept
from firstpull.handbook.entries import Check, Instrument, Reading, Spec
from firstpull.handbook.select import ClassBook
from firstpull.workshop.events import Event

VERDICTS: dict[str, paper.Verdict] = {"passed": "proved", "failed": "failed", "undecided": "undecided"}
WORDS = {"passed": "To specification", "failed": "Outside", "undecided": "Undecided"}


@dataclass(frozen=True, slots=True)
class _Read:
    """One number with its unit, the spread of what it was read with, and when it was taken."""

    name: str
    number: float
    unit: str
    width: float
    spec: str | None
    seq: int


def measured(file: JobFile) -> tuple[paper.Measured, ...]:
    """Everything that was measured or set on a job: the last figure of each, and whether it is to specification.

    A figure taken before the machine was last mended says nothing about how it leaves, and is marked so.
    """
    if file.session is None:
        return tuple(_bare(e) for e in _last(file.record.values, "name"))
    book = file.session.book
    found = [r for e in _last(file.record.values, "name") if (r := _of_value(book, e)) is not None]
    named = {r.name for r in found}
    found += [r for e in _last(file.record.readings, "check") for r in _of_reading(book, e) if r.name not in named]
    ours = [e.seq for e in file.record.repairs if (e.body.get("by") or "shop") == "shop"]
    return tuple(_row(book, r, max(ours, default=0)) for r in sorted(found, key=lambda r: r.seq))


def _last(events: tuple[Event, ...], key: str) -> list[Event]:
    """The last event of each name."""
    return list({str(e.body.get(key)): e for e in events}.values())


def _of_value(book: ClassBook, event: Event) -> _Read | None:
    """A value that was set, with the spread of the tool that the handbook reads it with, or of its last digit."""
    name = str(event.body.get("name"))
    number = _number(event.body.get("value"))
    if number is None:
        return None
    value = next((v for r in book.repairs.values() for v in r.values if v.id == name), None)
    spec = value.spec if value else None
    tool = book.book.instruments.get(str(event.body.get("instrument") or "")) or _usual_tool(book, spec)
    width = _width(tool, number, 0.0) if tool else _last_digit(number) / math.sqrt(12)
    return _Read(value.name if value else name, number, str(event.body.get("unit") or ""), width, spec, event.seq)


def _number(raw: object) -> float | None:
    if isinstance(raw, bool) or not isinstance(raw, int | float | str):
        return None
    try:
        number = float(raw)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _last_digit(number: float) -> float:
    """The step of the last digit that was written down."""
    text = f"{number:.12g}"
    return 10.0 ** -len(text.partition(".")[2]) if "." in text and "e" not in text else 1.0


def _usual_tool(book: ClassBook, spec: str | None) -> Instrument | None:
    """The instrument with which the handbook reads against this specification."""
    for check in book.checks.values():
        if spec is not None and any(r.spec == spec for r in check.readings):
            return book.book.instruments[check.instrument]
    return None


def _width(tool: Instrument, number: float, spread: float) -> float:
    """Standard uncertainty of one reading: noise, relative part, resolution, and the hand's own spread."""
    return math.sqrt(tool.noise**2 + (tool.relative * number) ** 2 + tool.resolution**2 / 12 + spread**2)


def _of_reading(book: ClassBook, event: Event) -> list[_Read]:
    """The numbers of a reading; words are proofs, not measurements."""
    check = book.checks.get(str(event.body.get("check")))
    if check is None:
        return []
    try:
        reads = read_values(check, event.body.get("reading"), event.body.get("spread"))
    except FirstpullError:
        return []
    own = book.book.instruments[check.instrument]
    tool = book.book.instruments.get(str(event.body.get("instrument") or ""), own)
    found = []
    for read in reads:
        reading = next((r for r in check.readings if r.key == read.key), check.readings[0])
        if read.number is not None:
            width = _width(tool, read.number, read.spread)
            found.append(_Read(_name(check, reading), read.number, reading.unit, width, _spec_of(book, check, reading),
                               event.seq))
    return found


def _name(check: Check, reading: Reading) -> str:
    return check.name if len(check.readings) == 1 or not reading.key else f"{check.name}, {reading.key}"


def _spec_of(book: ClassBook, check: Check, reading: Reading) -> str | None:
    if reading.spec is not None:
        return reading.spec
    return next((p.spec for p in book.releases.values() if p.check == check.id and p.spec), None)


def _row(book: ClassBook, read: _Read, mended: int) -> paper.Measured:
    value = f"{read.number:g} {read.unit}".strip()
    if read.width > 0:
        value += f", give or take {1.96 * read.width:.2g}"  # 95 in 100 of a normal spread
    spec = book.specs.get(read.spec or "")
    if spec is None or (spec.low is None and spec.high is None):
        return paper.Measured(read.name, value, "no figure held; the maker's rules", "undecided", "No figure held")
    verdict = accept(read.number, read.width, spec.low, spec.high)
    if verdict != "passed" and read.seq < mended:
        return paper.Measured(read.name, value, in_words(spec), "to-do", "Before the mend")
    return paper.Measured(read.name, value, in_words(spec), VERDICTS[verdict], WORDS[verdict])


def in_words(spec: Spec) -> str:
    """A specification with its standing."""
    if spec.low is not None and spec.high is not None:
        span = f"{spec.low:g} to {spec.high:g} {spec.unit}"
    elif spec.high is not None:
        span = f"{spec.high:g} {spec.unit} at most"
    elif spec.low is not None:
        span = f"{spec.low:g} {spec.unit} at least"
    else:
        return "no figure held; the maker's rules"
    return f"{span} ({spec.standing})"


def _bare(event: Event) -> paper.Measured:
    """A value on a machine whose kind is not known: nothing to hold it against."""
    value = f"{event.body.get('value')} {event.body.get('unit') or ''}".strip()
    return paper.Measured(str(event.body.get("name")), value, None, "undecided", "No figure held")
