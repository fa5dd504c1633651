"""A round: one step over several machines, so that one soaks or cools while the next is on the bench."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from firstpull.base.clock import stamp
from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench.find import event_for, session_of
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.reasoning.options import Option, check_options, repair_option
from firstpull.safety.moves import plan_moves
from firstpull.workshop.events import Event
from firstpull.workshop.rounds import Round, Turn, plan_round, round_events
from firstpull.workshop.two_hands import to_look_at

LEAST_WAITING = 3.0  # minutes a step must leave the hands free to be worth a round: judgement


@dataclass(frozen=True, slots=True)
class Offered:
    """A step that is next on several machines and leaves the hands free meanwhile."""

    kind: str
    id: str
    name: str
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rounded:
    """What became of a round: the stored events, or what somebody else changed and must be looked at first."""

    stored: tuple[Event, ...]
    changed: tuple[Event, ...]

    @property
    def waits(self) -> bool:
        """Nothing was stored: somebody must look first."""
        return bool(self.changed)


def offered_rounds(shop: Shop) -> tuple[Offered, ...]:
    """Steps that were last advised on two or more open jobs and leave the hands free; the most machines first.

    Reads what was said on each job and reckons nothing anew, so that a rack of a hundred is quick.
    """
    found: dict[tuple[str, str], list[str]] = {}
    for line in shop.store.jobs(open_only=True):
        record = shop.record(line.job)
        following = record.advised[-1].body.get("next") if record.advised else None
        if isinstance(following, Mapping):
            found.setdefault((str(following.get("kind")), str(following.get("id"))), []).append(line.job)
    book = shop.room.book
    rounds = [
        Offered(kind, name, book.name(kind, name), tuple(jobs)) for (kind, name), jobs in found.items()
        if kind in ("check", "repair") and len(jobs) > 1 and _waiting(shop, kind, name) >= LEAST_WAITING
    ]
    return tuple(sorted(rounds, key=lambda one: (-len(one.jobs), one.kind, one.id)))


def _waiting(shop: Shop, kind: str, name: str) -> float:
    entry = shop.room.book.shelf(kind).get(name)
    return float(getattr(entry, "waiting", 0.0))


def plan(shop: Shop, jobs: Sequence[str], kind: str, name: str) -> Round:
    """In which order to put machines in and take them out, and how long the hands are free.

    Minutes to put in hold the way there from how each machine stands; minutes to take out hold the way back.

    Raises:
        ManyErrors: a job or a class that does not know the step; all of them at once.
    """
    errors: list[FirstpullError] = []
    turns: list[Turn] = []
    for job in dict.fromkeys(jobs):
        try:
            turns.append(_turn(session_of(shop, shop.record(job)), job, kind, name))
        except FirstpullError as error:
            errors.append(error)
    if errors or not turns:
        raise ManyErrors(errors or [InputError("no machine", "round", "two or more jobs")])
    return plan_round(turns)


def _turn(session: Session, job: str, kind: str, name: str) -> Turn:
    option = _option(session, kind, name)
    if option is None:
        raise InputError(f"'{session.book.machine.id}' has no {kind} '{name}'", f"job {job}", "leave it out")
    there = plan_moves(session.state, option.off, option.on, session.book.minutes)
    after = session.state.with_moves([(m.item, m.position) for m in there])
    moved = {m.item for m in there}
    off = [i for i in moved if session.state.is_at(i, "off")]
    on = [i for i in moved if session.state.is_at(i, "on")]
    back = plan_moves(after, off, on, session.book.minutes)
    way, home = sum(m.minutes for m in there), sum(m.minutes for m in back)
    return Turn(job, round(way + option.minutes, 1), option.waiting, round(home, 1))


def _option(session: Session, kind: str, name: str) -> Option | None:
    book = session.book
    if kind == "repair":
        return repair_option(book, book.repairs[name]) if name in book.repairs else None
    if kind != "check" or name not in book.checks:
        return None
    options = check_options(book, book.checks[name])
    return min(options, key=lambda o: len(plan_moves(session.state, o.off, o.on, book.minutes)), default=None)


def do_round(
    shop: Shop, jobs: Mapping[str, int], raw: Mapping[str, Any], *, act_id: str, by: str
) -> Rounded:
    """Enter the same step on several machines as one act: all or none, and taken back together.

    `jobs` gives for each job the version that was looked at. The step is tried on every machine before any is kept.

    Raises:
        ManyErrors: the machines on which it cannot be entered; nothing is kept then.
    """
    known = shop.store.find_act(act_id)
    if known:
        return Rounded(known, ())
    errors: list[FirstpullError] = []
    events: list[Event] = []
    for job, seen in jobs.items():
        try:
            kind, body = event_for(shop, shop.record(job), raw)
            made = round_events([job], kind, body, by=by, at=stamp(shop.clock()), act_id=act_id)
            events += [replace(event, based_on=seen) for event in made]
        except FirstpullError as error:
            errors.append(error)
    if errors or not events:
        raise ManyErrors(errors or [InputError("no machine", "round", "two or more jobs")])
    offer = shop.store.offer(events, to_look_at)
    return Rounded(offer.stored, offer.changed)
