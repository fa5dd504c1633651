"""Whether an act can give what it says: what must turn or run for it, what may hurt, how it is done."""

from __future__ import annotations

from collections.abc import Iterator

from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check, Repair
from firstpull.handbook.findings import Finding

_LONGEST_NAME = 27  # what fits on one line of the narrowest page
_LONGEST_HOW = 5


def errors(book: Book) -> Iterator[Finding]:
    """Checks that could not give their reading, dangers that nobody would be told of, acts without a how-to."""
    for check in book.checks.values():
        yield from _moving(check)
        if check.drives and not check.spins:
            yield Finding("check", check.id, ("drives",), "nothing spins it", "spins = true, or no drives")
        if (check.runs or check.spins) and check.hazard == "none":
            what = f"the engine {'runs' if check.runs else 'turns'} and the hazard is 'none'"
            yield Finding("check", check.id, ("hazard",), what, 'hazard = "running", "turns", "spark", ...')
    acts: list[Check | Repair] = [*book.checks.values(), *book.repairs.values()]
    for act in acts:
        kind = "check" if isinstance(act, Check) else "repair"
        if act.hazard != "none" and not act.cautions:
            what = f"hazard '{act.hazard}' and no caution"
            yield Finding(kind, act.id, ("hazard",), what, 'cautions = ["..."], told before the first step')
        if not act.how:
            yield Finding(kind, act.id, ("how",), "nothing says how", "one to five short lines")
        if not act.system:
            yield Finding(kind, act.id, (), "it belongs to no system", 'system = "..." at the top of the file')


def gaps(book: Book) -> Iterator[Finding]:
    """Names and how-to's that are too long to be read at the bench."""
    for kind in ("fault", "check", "repair", "access"):
        for name, entry in book.shelf(kind).items():
            said = str(getattr(entry, "name", ""))
            if len(said) > _LONGEST_NAME:
                what = f"a name of {len(said)} characters"
                yield Finding(kind, name, ("name",), what, f"at most {_LONGEST_NAME}", gap=True)
            if len(getattr(entry, "how", ())) > _LONGEST_HOW:
                yield Finding(kind, name, ("how",), "a long how-to", f"at most {_LONGEST_HOW} short lines", gap=True)


def _moving(check: Check) -> Iterator[Finding]:
    for index, reading in enumerate(check.readings):
        if reading.model != "gauge":
            continue
        for word in (reading.reads, *(outcome.reads or "" for outcome in reading.outcomes)):
            observable = OBSERVABLES.get(word)
            if observable is None:
                continue
            key = ("reading", index, "reads")
            if observable.running and not check.runs:
                yield Finding("check", check.id, key, f"'{word}' shows only on a running engine", "runs = true")
            elif observable.turning and not (check.runs or check.spins):
                yield Finding("check", check.id, key, f"'{word}' shows only while it turns", "spins = true")
