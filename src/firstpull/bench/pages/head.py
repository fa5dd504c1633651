"""What stands on top of every page of a job: whose it is, whether it is dangerous, what is off it."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime

from firstpull.base.clock import moment
from firstpull.bench.picturing import pictures_of
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.handbook.book import Book
from firstpull.safety.interlocks import red
from firstpull.workshop.fold import JobRecord

STAGES = ("Take in", "Find", "Prove", "Repair", "Release", "Hand back")
_PLACE = {
    "booked": 1, "received": 1, "waiting-for-facts": 1, "finding": 2, "estimate-sent": 2, "approved": 4,
    "declined": 5, "parts-ordered": 4, "parts-in": 4, "on-bench": 4, "proving": 3, "ready": 6, "called": 6,
    "handed-back": 6, "comeback": 2, "unsafe-held": 5, "notice-sent": 6, "disposed": 6,
}
_STOP_TOKENS = frozenset({"stop-lead", "jumper", "bridged-switch"})


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to tap: what is sent and what is read on it."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class Asked:
    """A contradiction that one tap clears: the item, where it may stand, and what is read on each answer."""

    words: str
    item: str
    answers: tuple[Choice, Choice]


@dataclass(frozen=True, slots=True)
class JobHead:
    """What stands on top of every page of a job."""

    job: str
    number: str
    machine: str
    complaint: str
    stage: str
    place: int
    version: int
    off: tuple[Choice, ...]
    added: tuple[Choice, ...]
    unstoppable: bool
    danger: str
    questions: tuple[Asked, ...]
    notices: tuple[str, ...]
    kept: str
    by: str
    clock_since: str
    minutes: int
    closed: bool
    pictures: int
    clock_act: str


def fresh_act() -> str:
    """An id for one act, so that a form sent twice is kept once."""
    return uuid.uuid4().hex


def clock_time(text: str) -> str:
    """The hour and minute of a recorded moment where this machine stands; nothing when it cannot be read."""
    try:
        return moment(text).astimezone().strftime("%H:%M")
    except ValueError:
        return ""


def head(shop: Shop, record: JobRecord) -> JobHead:
    """The head of a job's pages."""
    book = shop.room.book
    live = shop.live(record)
    state = live.session.state if live else None
    away = sorted(state.away) if state else []
    dangerous = state is not None and red(state.tokens)
    last = record.events[-1] if record.events else None
    return JobHead(
        job=record.job,
        number=record.number or record.job,
        machine=book.name("machine", record.machine_class) if record.machine_class else "Kind not known yet",
        complaint=" ".join(record.words) or ", ".join(book.name("complaint", c) for c in record.complaint),
        stage=record.stage.replace("-", " "),
        place=_PLACE.get(record.stage, 2),
        version=record.last_seq,
        off=tuple(Choice(i, book.name("access", i)) for i in away if not book.access[i].added),
        added=tuple(Choice(i, book.name("access", i)) for i in away if book.access[i].added),
        unstoppable=dangerous,
        danger=_danger(book, record, away) if dangerous else "",
        questions=_questions(book, live.session) if live else (),
        notices=live.notices if live else (),
        kept=clock_time(last.at) if last else "",
        by=last.by if last else "",
        clock_since=next((clock_time(at) for _, at in record.worked.running), ""),
        minutes=round(record.minutes),
        closed=record.closed,
        pictures=len(pictures_of(record)),
        clock_act=fresh_act(),
    )


def _danger(book: Book, record: JobRecord, away: list[str]) -> str:
    """Which thing makes it unstoppable, since when, and what makes it safe."""
    guilty = [i for i in away if _STOP_TOKENS & set(book.access[i].tokens)]
    named = []
    for item in guilty:
        when = next((clock_time(e.when) for e in reversed(record.access) if e.body.get("item") == item), "")
        where = "on" if book.access[item].added else "off"
        named.append(f"{book.name('access', item)}: {where}{f' since {when}' if when else ''}.")
    return " ".join([*named, "Safe only with the plug out, or with the plug lead on an earthed tester."])


def _questions(book: Book, session: Session) -> tuple[Asked, ...]:
    found: dict[str, Asked] = {}
    for q in session.questions:
        if session.state.position(q.item) != q.implied or q.item in session.state.said:
            found.pop(q.item, None)
            continue
        name = book.name("access", q.item)
        words = f"{name}: {q.recorded}? You wrote that down, but '{book.name('check', q.check)}' shows it {q.implied}."
        answers = (Choice(f"{q.item}={q.recorded}", q.recorded), Choice(f"{q.item}={q.implied}", q.implied))
        found[q.item] = Asked(words, q.item, answers)
    return tuple(found.values())[-2:]


def today(now: datetime) -> str:
    """The day as it is said at the bench."""
    return now.astimezone().strftime("%A %-d %B")
