"""The work sheet: a job on paper, filled in with a pencil where there is no power, and typed back later."""

from __future__ import annotations

from typing import Any

from firstpull import paper
from firstpull.base.errors import InputError
from firstpull.bench.find import session_of
from firstpull.bench.paperwork.file import JobFile
from firstpull.bench.paperwork.measured import in_words
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.said import said_of
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check, Repair, Value
from firstpull.handbook.select import ClassBook
from firstpull.safety.interlocks import red
from firstpull.safety.release import wanted_proofs

MOST_CHECKS = 8
MOST_REPAIRS = 6
UNSTOPPABLE = paper.Caution(
    "This engine cannot be stopped as it stands.", "Plug lead on an earthed tester, or plug out, before it turns."
)


def work_sheet(file: JobFile) -> paper.WorkSheet:
    """The checks most worth doing next, each with a key for typing it back, and what must be shown before it leaves.

    While the kind of machine is not known the sheet has blank lines only.
    """
    day = (paper.Fact("Started at"), paper.Fact("Air, °C"), paper.Fact("Instrument tried today on"))
    if file.session is None:
        return paper.WorkSheet(head=file.head(), facts=day, spare_lines=12)
    session, known = file.session, said_of(file.shop, file.record, file.session)
    steps = [known["next"], *(s for s in known["ranked"] if s["id"] != known["next"]["id"])]
    checks = _unlike([s for s in steps if s["kind"] == "check" and s["id"] in session.book.checks])
    repairs = _repairs(session, known)
    book = session.book
    cautions = [c for s in checks for c in book.checks[s["id"]].cautions]
    cautions += [c for i in _items(session, checks) for c in book.access[i].cautions]
    return paper.WorkSheet(
        head=file.head(),
        cautions=(
            *((UNSTOPPABLE,) if red(session.state.tokens) else ()),
            *(paper.Caution(c.text, c.more or None) for c in _dangers(book.book, cautions)),
        ),
        facts=day,
        off=tuple(book.access[i].name for i in _items(session, checks)),
        checks=tuple(_pencil(book.book, s) for s in checks),
        repairs=tuple(r.name for r in repairs),
        settings=tuple(_setting(book, v) for v in {v.id: v for r in repairs for v in r.values}.values()),
        release=tuple(
            f"{p.name}{f', {p.times} times' if p.times > 1 else ''}" for p in wanted_proofs(book, repairs).values()
        ),
    )


def _unlike(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The first way of doing each check."""
    return list({s["id"]: s for s in reversed(steps)}.values())[::-1][:MOST_CHECKS]


def _repairs(session: Session, known: dict[str, Any]) -> list[Repair]:
    likely = sorted(known["repair_probability"].items(), key=lambda one: (-one[1], one[0]))
    return [session.book.repairs[r] for r, p in likely if p > 0.02][:MOST_REPAIRS]


def _items(session: Session, checks: list[dict[str, Any]]) -> list[str]:
    """What is away from rest now, and what the checks need moved."""
    book = session.book
    wanted = [i for s in checks for i in (*book.checks[s["id"]].needs.off, *book.checks[s["id"]].needs.on,
                                          *book.checks[s["id"]].wants.on, *book.checks[s["id"]].varies)]
    return [i for i in dict.fromkeys([*sorted(session.state.away), *wanted]) if i in book.access]


def _dangers(book: Book, cautions: list[str]) -> list[Any]:
    known = [book.cautions[c] for c in dict.fromkeys(cautions) if c in book.cautions]
    return [c for c in known if c.danger]


def _pencil(book: Book, step: dict[str, Any]) -> paper.PencilCheck:
    check: Check = book.checks[step["id"]]
    tool = book.instruments[check.instrument]
    how = (*(() if tool.bare else (f"With: {tool.name.lower()}.",)), *check.how)
    mild = [book.cautions[c] for c in check.cautions if c in book.cautions and not book.cautions[c].danger]
    return paper.PencilCheck(
        key=key_of(book, check.id),
        title=check.name,
        outcomes=tuple(o.name for r in check.readings for o in r.outcomes),
        values=tuple(f"{r.key or check.name}, {r.unit}" for r in check.readings if r.number),
        how=" ".join(how) or None,
        minutes=f"{max(1, round(check.minutes))} min",
        cautions=tuple(paper.Caution(c.text, c.more or None) for c in mild),
    )


def _setting(book: ClassBook, value: Value) -> paper.Fact:
    """A line for a value to set, with what is right for this class."""
    spec = book.specs.get(value.spec or "")
    return paper.Fact(f"{value.name}, {value.unit}{'; ' + in_words(spec) if spec else ''}")


def key_of(book: Book, check: str) -> str:
    """The short key of a check on paper: its place in this handbook."""
    return f"C{list(book.checks).index(check) + 1}"


def check_of_key(shop: Shop, job: str, key: str) -> str:
    """The check that a key on a work sheet stands for, for typing a sheet back.

    Raises:
        InputError: there is no such key, or the class of this machine has no such check.
    """
    checks = list(shop.room.book.checks)
    digits = key.strip().upper().removeprefix("C")
    place = int(digits) if digits.isascii() and digits.isdigit() and len(digits) < 5 else 0
    if not 1 <= place <= len(checks) or checks[place - 1] not in session_of(shop, shop.record(job)).book.checks:
        raise InputError(f"no check has the key '{key}'", f"job {job}", "a key from its work sheet, for example C12")
    return checks[place - 1]
