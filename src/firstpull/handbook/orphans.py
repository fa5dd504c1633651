"""What is missing from a book that can otherwise be used: faults that nothing cures, notices or asks about."""

from __future__ import annotations

from collections.abc import Iterator

from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.entries import Fault
from firstpull.handbook.findings import Finding
from firstpull.handbook.noticed import noticed, observables
from firstpull.handbook.references import REFERENCES, named
from firstpull.handbook.select import for_class
from firstpull.handbook.spell import words_of

# Kinds that exist only to be named by others, and what the others are.
_NAMED_BY = {
    "told": "fault",
    "instrument": "check",
    "caution": "step or access item",
    "access": "step or drive",
}


def gaps(book: Book) -> list[Finding]:
    """Everything that is missing; none of it keeps the book from being used."""
    return [*_uncured(book), *_unnamed(book), *_by_class(book), *_unseen(book), *_shared_words(book)]


def _gap(kind: str, name: str, what: str, right: str) -> Finding:
    return Finding(kind, name, (), what, right, gap=True)


def _uncured(book: Book) -> Iterator[Finding]:
    cured = {fault for repair in book.repairs.values() for fault in repair.cures}
    for fault in book.faults.values():
        if fault.id not in cured:
            yield _gap("fault", fault.id, "no repair cures it", f'a repair with cures = ["{fault.id}"]')
        if not any(fault.rate.values()):
            yield _gap("fault", fault.id, "it never happens", "a rate above zero for some class")


def _unnamed(book: Book) -> Iterator[Finding]:
    words = {
        word
        for kind, references in REFERENCES.items()
        for entry in book.shelf(kind).values()
        for path, target in references
        if target in SHELVES
        for _, word in named(entry, path)
    }
    for kind, namer in _NAMED_BY.items():
        for name in book.shelf(kind):
            if name not in words:
                yield _gap(kind, name, f"no {namer} names it", "name it, or leave it out")


def _by_class(book: Book) -> Iterator[Finding]:
    for machine in book.machines:
        mine = for_class(book, machine)
        cured = {fault for repair in mine.repairs.values() for fault in repair.cures}
        for repair in mine.repairs.values():
            if repair.proof.check in book.checks and repair.proof.check not in mine.checks:
                what = f"its proof '{repair.proof.check}' does not exist for {machine}"
                yield _gap("repair", repair.id, what, "a proof that every class of the repair can give")
        for fault in mine.faults.values():
            if fault.id not in cured and any(fault.id in r.cures for r in book.repairs.values()):
                yield _gap("fault", fault.id, f"no repair cures it on {machine}", "a repair for that class")


def _unseen(book: Book) -> Iterator[Finding]:
    unseen: dict[str, None] = {}
    unanswered: dict[str, str] = {}
    for machine in book.machines:
        mine = for_class(book, machine)
        seen = noticed(mine)
        unanswered |= seen.unanswered
        if not seen.unanswered:
            unseen |= {f.id: None for f in mine.faults.values() if not _is_seen(f, seen.parameters)}
    for check in book.checks.values():
        for name in observables(check):
            if name in unanswered:
                yield _gap("check", check.id, f"the engine cannot say '{name}': {unanswered[name]}", "a rule for it")
    for fault in unseen:
        what = f"no check notices what it moves: {', '.join(d.parameter for d in book.faults[fault].draws)}"
        yield _gap("fault", fault, what, "a check that reads it, or a draw on something that is read")


def _is_seen(fault: Fault, parameters: frozenset[str]) -> bool:
    return any(draw.parameter in parameters for draw in fault.draws)


def _shared_words(book: Book) -> Iterator[Finding]:
    """Phrases that mean two entries of one kind; over kinds a complaint goes before what is told."""
    for kind in ("complaint", "told", "machine"):
        said: dict[tuple[str, ...], str] = {}
        for name, entry in book.shelf(kind).items():
            for index, phrase in enumerate(getattr(entry, "phrases", ())):
                owner = said.setdefault(words_of(phrase), name)
                if owner != name:
                    what = f"'{phrase}' already means {kind} '{owner}'"
                    yield Finding(kind, name, ("phrases", index), what, "one phrase, one meaning", gap=True)
