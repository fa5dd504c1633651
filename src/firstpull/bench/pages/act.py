"""Anything that was done, in any order: every check, repair and move of the class, and one of them as a card."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import InputError
from firstpull.bench.find import session_of
from firstpull.bench.nearby import with_room
from firstpull.bench.pages.cards import StepCard, step_card
from firstpull.bench.pages.head import Choice, JobHead, fresh_act, head
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.said import seen
from firstpull.handbook.entries import Repair
from firstpull.handbook.findings import nearest
from firstpull.reasoning.options import Option, check_options, repair_option
from firstpull.safety.interlocks import judge
from firstpull.safety.moves import plan_moves


@dataclass(frozen=True, slots=True)
class Shelf:
    """Things that can be done, under one heading."""

    name: str
    entries: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class ActsPage:
    """Everything that can be entered on a job, in the handbook's order."""

    head: JobHead
    act_id: str
    search: str
    checks: tuple[Shelf, ...]
    repairs: tuple[Choice, ...]
    moves: tuple[tuple[Choice, str], ...]


@dataclass(frozen=True, slots=True)
class CardPage:
    """One check or repair as it was chosen by hand."""

    head: JobHead
    act_id: str
    step: StepCard
    forbidden: str


def acts_page(shop: Shop, job: str, search: str = "") -> ActsPage:
    """All that may be entered on a job.

    Raises:
        InputError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    words = search.casefold().split()

    def fits(name: str) -> bool:
        return all(word in name.casefold() for word in words)

    shelves: dict[str, list[Choice]] = {}
    for check in session.book.checks.values():
        if fits(f"{check.name} {check.part} {check.id}"):
            shelves.setdefault(check.system or "other", []).append(Choice(check.id, check.name))
    return ActsPage(
        head(shop, record), fresh_act(), search,
        tuple(Shelf(name.replace("-", " ").capitalize(), tuple(found)) for name, found in shelves.items()),
        tuple(Choice(r.id, r.name) for r in session.book.repairs.values() if fits(f"{r.name} {r.part} {r.id}")),
        tuple((Choice(i, entry.name), session.state.position(i)) for i, entry in session.book.access.items()
              if fits(entry.name)),
    )


def card_page(shop: Shop, job: str, kind: str, name: str) -> CardPage:
    """One check, complaint or repair as a card.

    Raises:
        InputError: there is no such job or step.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    now = seen(shop, record, session)
    following = now.answer["next"] if now.answer is not None and now.counts_all else {}
    advised = (following.get("kind"), following.get("id")) == (kind, name)
    raw = following if advised else _chosen(session, kind, name)
    option = _option(session, kind, name)
    step = step_card(shop.room.book, with_room(shop, job, session, raw))
    return CardPage(head(shop, record), fresh_act(), step, _forbidden(session, option))


def _forbidden(session: Session, option: Option | None) -> str:
    """Why the step would not be advised even with its moves made; nothing when it might be."""
    if option is None:
        return ""
    verdict = judge(session.state.with_moves(_moves(option)).tokens, option.deed, session.book.sizes)
    return "" if verdict.allowed else verdict.why


def _moves(option: Option) -> list[tuple[str, Any]]:
    return [*((i, "off") for i in sorted(option.off)), *((i, "on") for i in sorted(option.on))]


def _option(session: Session, kind: str, name: str) -> Option | None:
    book = session.book
    if kind == "check" and name in book.checks:
        options = list(check_options(book, book.checks[name]))
        return min(options, key=lambda o: len(plan_moves(session.state, o.off, o.on, book.minutes)), default=None)
    return repair_option(book, book.repairs[name]) if kind == "repair" and name in book.repairs else None


def _chosen(session: Session, kind: str, name: str) -> dict[str, Any]:
    """A step that nobody advised, as plain values."""
    book = session.book
    shelves: dict[str, Any] = {"check": {**book.checks, **book.complaints}, "repair": book.repairs}
    if name not in shelves.get(kind, {}):
        right = nearest(name, shelves.get(kind, {}))
        raise InputError(f"'{book.machine.id}' has no {kind} '{name}'", "step", right)
    entry = shelves[kind][name]
    option = _option(session, kind, name)
    moves = plan_moves(session.state, option.off, option.on, book.minutes) if option else []
    minded = [c for m in moves for c in book.access[m.item].cautions]
    minded += option.cautions if option else ()
    known = [book.book.cautions[c] for c in dict.fromkeys(minded) if c in book.book.cautions]
    return {
        "kind": kind, "id": name, "name": entry.name, "why": getattr(entry, "habit", ""),
        "minutes": entry.minutes + sum(m.minutes for m in moves),
        "waiting": entry.waiting if isinstance(entry, Repair) else 0.0,
        "cautions": [{"id": c.id, "text": c.text, "more": c.more, "danger": c.danger}
                     for c in sorted(known, key=lambda c: not c.danger)],
        "access": [{"item": m.item, "state": m.position, "minutes": m.minutes} for m in moves],
        "drive": option.drive if option else "none",
    }
