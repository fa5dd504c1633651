"""From belief to what mending takes: each thing it may be, the repairs that cure it, their minutes and parts."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from firstpull.base.money import Money
from firstpull.bench.session import Session
from firstpull.handbook.entries import Part, Repair
from firstpull.reasoning.adviser import put_back
from firstpull.reasoning.laying import PROOF_MINUTES
from firstpull.reasoning.options import repair_option
from firstpull.safety.moves import plan_moves
from firstpull.safety.state import MachineState, Position
from firstpull.workshop.estimate import Suspect
from firstpull.workshop.pricing import Minutes, PartPrice, Span

# How far real minutes stray from the usual ones, down and up: judgement, until the season has measured them.
QUICK, SLOW = 0.8, 1.6
Repairs = tuple[str, ...]


def suspects(
    session: Session, currency: str, believed: Iterable[tuple[frozenset[str], float]] | None = None
) -> tuple[Suspect, ...]:
    """What it may be, each with the least dear repairs that cure it; their odds add up to what the handbook knows.

    States that the same repairs cure are one suspect. What was already done on this machine by the shop is part of
    every one. A sound machine is a suspect that takes nothing. `believed` is what was reckoned already.
    """
    held: dict[Repairs, float] = {}
    for faults, probability in session.belief().suspects if believed is None else believed:
        repairs = cheapest_cure(session, faults)
        if repairs is not None:
            held[repairs] = held.get(repairs, 0.0) + probability
    done = tuple(a for a in _done(session) if a in session.book.repairs)
    found = []
    for repairs, probability in held.items():
        whole = tuple(dict.fromkeys((*done, *repairs)))
        entries = [session.book.repairs[r] for r in whole]
        found.append(Suspect(
            name=", ".join(_lower(e.name) for e in entries) or "nothing to mend",
            probability=min(1.0, max(0.0, float(probability))),
            minutes=minutes(session, whole),
            parts=tuple(part_price(p, currency) for e in entries for p in e.parts),
        ))
    return tuple(sorted(found, key=lambda one: (-one.probability, one.name)))


def _done(session: Session) -> list[str]:
    return [str(s.id) for s in session.steps if s.kind == "repair" and s.by == "shop"]


def cheapest_cure(session: Session, faults: Iterable[str]) -> Repairs | None:
    """The repairs that cure all these faults for the least money; None when the handbook has none for one of them."""
    left = set(faults)
    chosen: list[str] = []
    while left:
        fitting = [r for r in session.book.repairs.values() if left & set(r.cures) and not r.locked]
        if not fitting:
            return None
        # Per fault that it cures: a repair that cures both is taken when it is dearer than either, not than both.
        best = min(fitting, key=lambda r: (_price(session, r) / len(left & set(r.cures)), r.id))
        chosen.append(best.id)
        left -= set(best.cures)
    return tuple(sorted(chosen))


def _price(session: Session, repair: Repair) -> float:
    """Parts and work of one repair in minutes-equivalents, from how the machine stands."""
    option = repair_option(session.book, repair)
    moves = plan_moves(session.state, option.off, option.on, session.book.minutes)
    parts = session.prices.minutes(sum(p.usual for p in repair.parts))
    return parts + repair.minutes + sum(m.minutes for m in moves)


def minutes(session: Session, repairs: Repairs, start: MachineState | None = None) -> Minutes:
    """Hands-on minutes of these repairs: getting there, the work, putting all back, and proving it.

    They count from how the machine stands now, or from `start`. Waiting is no labour and is left out. Nothing to mend
    takes no minutes.
    """
    if not repairs:
        return Minutes(0.0, 0.0, 0.0)
    book, state = session.book, session.state if start is None else start
    usual = PROOF_MINUTES
    for name in repairs:
        repair = book.repairs[name]
        option = repair_option(book, repair)
        moves = plan_moves(state, option.off, option.on, book.minutes)
        steps: list[tuple[str, Position]] = [(m.item, m.position) for m in moves]
        state = state.with_moves(steps)
        usual += repair.minutes + sum(m.minutes for m in moves)
    usual += sum(m.minutes for m in put_back(book, state))
    return Minutes(round(usual * QUICK, 1), round(usual, 1), round(usual * SLOW, 1))


def part_price(part: Part, currency: str) -> PartPrice:
    """A part of the handbook with its price in the shop's currency."""
    low, usual, high = (Money.of(Decimal(repr(x)), currency) for x in (part.low, part.usual, part.high))
    return PartPrice(part.name, Span(low, usual, high))


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name
