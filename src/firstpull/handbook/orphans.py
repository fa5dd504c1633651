"""What is missing from a book that can otherwise be used: faults that nothing cures, notices or asks about."""

from __future__ import annotations

from collections.abc import Iterator

from firstpull.handbook import acts
from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.entries import Fault
from firstpull.handbook.findings import Finding, nearest
from firstpull.handbook.noticed import Asked, Noticed, noticed, observables
from firstpull.handbook.references import REFERENCES, named
from firstpull.handbook.select import ClassBook, for_class, holds, sizes_of
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
    return [
        *_uncured(book),
        *_unnamed(book),
        *_left_out(book),
        *_by_class(book),
        *_unseen(book),
        *_shared_words(book),
        *acts.gaps(book),
    ]


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


def _left_out(book: Book) -> Iterator[Finding]:
    """Numbers for a class for which the entry does not exist."""
    for kind, field in (("fault", "rate"), ("access", "by_class")):
        for name, entry in book.shelf(kind).items():
            for machine in getattr(entry, field):
                if machine in book.machines and not holds(getattr(entry, "only", {}), sizes_of(book.machines[machine])):
                    what = f"'{machine}' is not among those that 'only' lets in"
                    yield Finding(kind, name, (field, machine), what, "leave it out, or widen 'only'", gap=True)


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
    """Faults that no check notices, proofs that would not notice the fault, and set-ups that physics ignores."""
    asked: Asked = {}
    found = [(mine := for_class(book, machine), noticed(mine, asked)) for machine in book.machines]
    unanswered = {name: why for _, seen in found for name, why in seen.unanswered.items()}
    for check in book.checks.values():
        for name in observables(check):
            if name in unanswered:
                yield _gap("check", check.id, f"the engine cannot say '{name}': {unanswered[name]}", "a rule for it")
    whole = [(mine, seen) for mine, seen in found if not seen.unanswered]
    yield from _unnoticed(whole)
    yield from _blind_proofs(whole)
    yield from _unasked_setups(book, [seen for _, seen in found])


def _unnoticed(whole: list[tuple[ClassBook, Noticed]]) -> Iterator[Finding]:
    here: dict[str, dict[str, bool]] = {}
    for mine, seen in whole:
        for fault in mine.faults.values():
            here.setdefault(fault.id, {})[mine.machine.id] = _moves(fault, seen.by_any)
    for fault_id, classes in sorted(here.items()):
        if not all(classes.values()):
            what = f"no check notices what it moves{_where(classes)}"
            yield _gap("fault", fault_id, what, "a check that reads it, or a draw on something that is read")


def _blind_proofs(whole: list[tuple[ClassBook, Noticed]]) -> Iterator[Finding]:
    here: dict[tuple[str, str], dict[str, bool]] = {}
    for mine, seen in whole:
        for repair in mine.repairs.values():
            parameters = seen.parameters.get(repair.proof.check)
            for name in repair.cures:
                if parameters is not None and name in mine.faults:
                    here.setdefault((repair.id, name), {})[mine.machine.id] = _moves(mine.faults[name], parameters)
    for (repair_id, name), classes in sorted(here.items()):
        if not all(classes.values()):
            what = f"its proof does not notice '{name}', which it cures{_where(classes)}"
            yield _gap("repair", repair_id, what, "a proof whose reading the fault moves")


def _moves(fault: Fault, parameters: frozenset[str]) -> bool:
    return any(draw.parameter in parameters for draw in fault.draws)


def _where(classes: dict[str, bool]) -> str:
    """On which classes something does not hold; nothing when it holds on none."""
    missing = [name for name, holds in classes.items() if not holds]
    if len(missing) == len(classes):
        return ""
    return f", on {', '.join(missing[:3])}" + (", ..." if len(missing) > 3 else "")


def _unasked_setups(book: Book, seen: list[Noticed]) -> Iterator[Finding]:
    asked = {check: frozenset().union(*(one.setups.get(check, frozenset()) for one in seen)) for check in book.checks}
    for check in book.checks.values():
        for name in check.setup:
            if name not in asked[check.id]:
                right = nearest(name, asked[check.id])
                yield Finding("check", check.id, ("setup", name), f"no physics asks for '{name}'", right, gap=True)
    for instrument in book.instruments.values():
        mine = [asked[check.id] for check in book.checks.values() if check.instrument == instrument.id]
        known = frozenset[str]().union(*mine)
        for name in instrument.setup:
            if mine and name not in known:
                what = f"no physics asks for '{name}'"
                yield Finding("instrument", instrument.id, ("setup", name), what, nearest(name, known), gap=True)


def _shared_words(book: Book) -> Iterator[Finding]:
    """Phrases that mean two entries of one kind; "generator" may mean any machine that makes current."""
    for kind in ("complaint", "told"):
        said: dict[tuple[str, ...], str] = {}
        for name, entry in book.shelf(kind).items():
            for index, phrase in enumerate(getattr(entry, "phrases", ())):
                owner = said.setdefault(words_of(phrase), name)
                if owner != name:
                    what = f"'{phrase}' already means {kind} '{owner}'"
                    yield Finding(kind, name, ("phrases", index), what, "one phrase, one meaning", gap=True)
