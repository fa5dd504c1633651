"""Whether the entries of a book fit each other and the engine; every finding at once.

`references` looks after names, `bands` after readings; here are the numbers and the things that exclude each other.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary import PARAMETERS, SIZES, TOKENS
from firstpull.handbook import acts, bands, references
from firstpull.handbook.bands import unit_fault
from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.entries import Draw, Needs
from firstpull.handbook.findings import Finding, Key, nearest
from firstpull.handbook.moves import stuck

_NUMBER = re.compile(r"F\d{3}|K\d{2}")


def errors(book: Book) -> list[Finding]:
    """Everything for which a book is refused."""
    looks: tuple[Callable[[Book], Iterable[Finding]], ...] = (
        references.errors,
        bands.errors,
        _draws,
        _only,
        _sizes,
        _arrangements,
        _circles,
        _proofs,
        _values,
        acts.errors,
        _access,
        _coverage,
        _retired,
        _figures,
    )
    return [finding for look in looks for finding in look(book)]


def _draws(book: Book) -> Iterator[Finding]:
    for fault in book.faults.values():
        if not fault.draws:
            yield Finding("fault", fault.id, ("draws",), "it moves no parameter", "at least one draw")
        if not fault.system:
            yield Finding("fault", fault.id, (), "it belongs to no system", 'system = "..." at the top of the file')
        for index, draw in enumerate(fault.draws):
            yield from _draw("fault", fault.id, ("draws", index), draw)
    for machine in book.machines.values():
        for index, draw in enumerate(machine.healthy):
            yield from _draw("machine", machine.id, ("healthy", index), draw)


def _draw(kind: str, name: str, key: Key, draw: Draw) -> Iterator[Finding]:
    parameter = PARAMETERS.get(draw.parameter)
    if parameter is None:
        return
    try:
        spread = draw.spread(parameter.low, parameter.high)
    except FirstpullError as error:
        yield Finding(kind, name, key, error.what, error.right)
        return
    if kind == "machine" and spread.is_relative:
        yield Finding(
            kind,
            name,
            (*key, "form"),
            f"'{draw.form}' starts from a healthy value",
            "a form of its own numbers",
        )
    if spread.is_relative:
        return
    given = {
        "value": draw.value,
        "low": draw.low,
        "high": draw.high,
        "mean": draw.mean,
        "median": draw.median,
    }
    numbers = [(field, value) for field, value in given.items() if value is not None]
    numbers += [("values", value) for value in draw.values]
    for field, value in numbers:
        if not parameter.low <= value <= parameter.high:
            what = f"{draw.parameter} cannot be {value:g}"
            right = f"from {parameter.low:g} to {parameter.high:g} {parameter.unit.replace('1', '').strip()}".strip()
            yield Finding(kind, name, (*key, field), what, right)


def _only(book: Book) -> Iterator[Finding]:
    for kind in SHELVES:
        for name, entry in book.shelf(kind).items():
            only: dict[str, tuple[str, ...]] = getattr(entry, "only", {})
            for trait, words in only.items():
                choices = SIZES[trait].choices if trait in SIZES else ()
                for index, word in enumerate(words):
                    if choices and word not in choices:
                        what = f"'{word}' is not a word for {trait}"
                        yield Finding(kind, name, ("only", trait, index), what, nearest(word, choices))


def _sizes(book: Book) -> Iterator[Finding]:
    for machine in book.machines.values():
        for word, value in machine.sizes.items():
            size = SIZES.get(word)
            if size is None:
                continue
            key = ("sizes", word)
            if isinstance(value, str) != isinstance(size.default, str):
                wanted = "one of " + ", ".join(size.choices) if size.choices else f"a number [{size.unit}]"
                yield Finding("machine", machine.id, key, f"{word} cannot be {value!r}", wanted)
            elif isinstance(value, float) and isinstance(size.default, float) and value < 0 <= size.default:
                yield Finding("machine", machine.id, key, f"{word} cannot be {value:g}", "zero or more")
            elif isinstance(value, str) and size.choices and value not in size.choices:
                what = f"'{value}' is not a word for {word}"
                yield Finding("machine", machine.id, key, what, "one of " + ", ".join(size.choices))


def _arrangements(book: Book) -> Iterator[Finding]:
    for check in book.checks.values():
        both = Needs(off=check.needs.off + check.wants.off, on=check.needs.on + check.wants.on)
        yield from _both_ways("check", check.id, "needs", both)
    for repair in book.repairs.values():
        yield from _both_ways("repair", repair.id, "needs", repair.needs)
    for way in book.drives:
        yield from _both_ways("drive", way.id, "needs", way.needs)
    for item in book.access.values():
        yield from _both_ways("access", item.id, "first", item.first)


def _both_ways(kind: str, name: str, field: str, needs: Needs) -> Iterator[Finding]:
    for word in sorted(set(needs.off) & set(needs.on)):
        yield Finding(kind, name, (field,), f"'{word}' would have to be off and on", "one of the two")


def _circles(book: Book) -> Iterator[Finding]:
    safer = {check.id: check.safer for check in book.checks.values()}
    for name in safer:
        path = _circle(safer, name)
        if path:
            what = f"each is safer than the next: {', '.join(path)}"
            yield Finding("check", name, ("safer",), what, "leave out one of them")
    for name in stuck(book.access):
        yield Finding("access", name, ("first",), "what must come first can never come about", "leave out one of them")


def _circle(graph: dict[str, tuple[str, ...]], start: str) -> list[str]:
    """The shortest way from an id back to itself, when that id is the first by name on it."""
    paths = [[start]]
    seen: set[str] = set()
    while paths:
        path = paths.pop(0)
        for word in graph.get(path[-1], ()):
            if word == start:
                return [*path, start] if min(path) == start else []
            if word not in seen:
                seen.add(word)
                paths.append([*path, word])
    return []


def _proofs(book: Book) -> Iterator[Finding]:
    proofs: list[tuple[str, str, Key, str, tuple[str, ...]]] = [
        ("repair", r.id, ("proof",), r.proof.check, r.proof.outcomes) for r in book.repairs.values()
    ]
    proofs += [("release", r.id, (), r.check, r.outcomes) for r in book.releases.values()]
    for kind, name, key, check_id, outcomes in proofs:
        if check_id not in book.checks:
            continue
        known = {o.id for reading in book.checks[check_id].readings for o in reading.outcomes}
        for index, word in enumerate(outcomes):
            if word not in known:
                what = f"'{word}' is not an outcome of check '{check_id}'"
                yield Finding(kind, name, (*key, "outcomes", index), what, nearest(word, known))
    for repair in book.repairs.values():
        if not repair.proof.outcomes:
            yield Finding("repair", repair.id, ("proof", "outcomes"), "no outcome shows it cured", "at least one")


def _values(book: Book) -> Iterator[Finding]:
    units = {spec.id: spec.unit for machine in book.machines.values() for spec in machine.specs}
    for repair in book.repairs.values():
        for index, value in enumerate(repair.values):
            wanted = units.get(value.spec) if value.spec is not None else None
            yield from unit_fault("repair", repair.id, ("values", index, "unit"), value.unit, wanted)
    for check in book.checks.values():
        for index, reading in enumerate(check.readings):
            wanted = units.get(reading.spec) if reading.spec is not None else None
            if wanted is not None:
                yield from unit_fault("check", check.id, ("reading", index, "unit"), reading.unit, wanted)
    for instrument in book.instruments.values():
        yield from unit_fault("instrument", instrument.id, ("unit",), instrument.unit, None)
    for machine in book.machines.values():
        for index, spec in enumerate(machine.specs):
            yield from unit_fault("machine", machine.id, ("spec", index, "unit"), spec.unit, None)


def _access(book: Book) -> Iterator[Finding]:
    for item in book.access.values():
        for index, word in enumerate(item.tokens):
            token = TOKENS.get(word)
            if token is not None and token.added != item.added:
                what = f"'{word}' is {'added by us' if token.added else 'a part of the machine'}"
                right = f"added = {str(token.added).lower()}"
                yield Finding("access", item.id, ("tokens", index), what, right)


def _retired(book: Book) -> Iterator[Finding]:
    for old in book.retired.values():
        if old.id in book.shelf(old.kind):
            what = f"'{old.id}' is a {old.kind} again"
            yield Finding("retired", old.id, ("id",), what, "a new id; old jobs mean the old entry")
        elif old.becomes is not None and book.today(old.kind, old.id) is None:
            right = nearest(old.becomes, book.shelf(old.kind))
            yield Finding("retired", old.id, ("becomes",), f"'{old.becomes}' is not a {old.kind}", right)


def _coverage(book: Book) -> Iterator[Finding]:
    for kind in SHELVES:
        for name, entry in book.shelf(kind).items():
            numbers: tuple[str, ...] = getattr(entry, "numbers", ())
            for index, number in enumerate(numbers):
                if not _NUMBER.fullmatch(number):
                    what = f"'{number}' is not a number of the coverage list"
                    yield Finding(kind, name, ("numbers", index), what, "F and three digits, or K and two")


def _figures(book: Book) -> Iterator[Finding]:
    """Prices, worths and ranges whose numbers stand in the wrong order, and figures that are and are not held."""
    for machine in book.machines.values():
        yield from _in_order("machine", machine.id, ("worth",), machine.worth)
        for index, spec in enumerate(machine.specs):
            key = ("spec", index)
            given = [number for number in (spec.low, spec.high) if number is not None]
            yield from _in_order("machine", machine.id, key, given)
            if (spec.standing == "none held") != (not given):
                what = f"'{spec.id}' is {spec.standing}, with {len(given)} figures"
                yield Finding("machine", machine.id, (*key, "standing"), what, "no figures exactly where none are held")
    for repair in book.repairs.values():
        for index, part in enumerate(repair.parts):
            yield from _in_order("repair", repair.id, ("parts", index), (part.low, part.usual, part.high))


def _in_order(kind: str, name: str, key: Key, numbers: Iterable[float]) -> Iterator[Finding]:
    given = list(numbers)
    if given != sorted(given):
        yield Finding(kind, name, key, f"{', '.join(f'{n:g}' for n in given)} do not rise", "low first, high last")
