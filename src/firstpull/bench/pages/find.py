"""Finding: the next step, the drawing, the suspects, other steps, what was read, and what can be undone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import InputError
from firstpull.bench.drawing import Drawing, draw, level_of
from firstpull.bench.find import last_act, session_of
from firstpull.bench.nearby import with_room
from firstpull.bench.pages.cards import StepCard, step_card
from firstpull.bench.pages.head import Choice, JobHead, clock_time, fresh_act, head
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.said import seen
from firstpull.handbook.book import Book
from firstpull.handbook.pages.links import file_of
from firstpull.reasoning.explain import odds_words, outcome_name
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord

MOST_OTHERS = 5
MOST_QUESTIONS = 3
MOST_SUSPECTS = 6
LEAST_SUSPECT = 0.005
FITS_NOTHING = 0.01
NUMBERS_KEY = "suspect-numbers"


@dataclass(frozen=True, slots=True)
class SuspectRow:
    """A suspect with its number, its odds in words and in a hundred, and how hard it is pencilled."""

    number: int
    name: str
    faults: tuple[str, ...]
    in_hundred: int
    odds: str
    level: int
    plain: str
    pages: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One thing that was read, and the act by which it can be trusted no longer."""

    act: str
    name: str
    reading: str
    when: str
    odd: bool
    strip: str = ""


@dataclass(frozen=True, slots=True)
class FindPage:
    """Finding: the next step, the suspects, other steps, and what can be undone.

    While no answer counts every act there is no `step`; `before` names the step that was said last, and the suspects
    are those of then. `news` is nothing when no more will come by itself.
    """

    head: JobHead
    act_id: str
    place: int
    step: StepCard | None
    before: str
    others: tuple[StepCard, ...]
    suspects: tuple[SuspectRow, ...]
    sound: str
    outside: str
    cost: str
    drawing: Drawing
    readings: tuple[ReadingRow, ...]
    undo: Choice | None
    fits_nothing: bool
    note: str
    settled: bool
    news: str
    trouble: str
    questions: tuple[Choice, ...]


NOTHING_SAID: dict[str, Any] = {
    "ranked": [], "suspects": [], "questions": [], "fault_probability": {}, "not_in_handbook": 0.0,
    "surprise": {"p_value": None, "odd_one": None},
}


def find_page(shop: Shop, job: str) -> FindPage:
    """The page on which the fault is found, with what is known at this moment.

    Raises:
        InputError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    book = shop.room.book
    now = seen(shop, record, session)
    known = now.answer or NOTHING_SAID
    others = [r for r in known["ranked"][1:] if r["kind"] in ("check", "repair")][:MOST_OTHERS]
    rows = suspect_rows(shop, record, known)
    numbered = [(row.number, fault) for row in rows for fault in row.faults]
    fresh = now.answer is not None and now.counts_all
    step = step_card(book, with_room(shop, job, session, known["next"])) if fresh else None
    healthy = next((s["probability"] for s in known["suspects"] if not s["faults"]), 0.0)
    return FindPage(
        head=head(shop, record),
        act_id=fresh_act(),
        place=_place(book, step),
        step=step,
        before=str(known["next"]["name"]) if now.answer is not None and not fresh else "",
        others=tuple(step_card(book, with_room(shop, job, session, o)) for o in others) if fresh else (),
        suspects=rows,
        sound=odds_words(healthy) if healthy > 0.02 else "",
        outside=odds_words(known["not_in_handbook"]) if now.answer is not None else "",
        cost=_cost(known["cost"]) if fresh else "",
        drawing=draw(session.book, session.state, known["fault_probability"], numbered),
        readings=reading_rows(book, record, known["surprise"]["odd_one"]),
        undo=undo_choice(book, record),
        fits_nothing=fresh and (known["surprise"]["p_value"] or 1.0) < FITS_NOTHING,
        note=str(record.notes[-1].body.get("text", "")) if record.notes else "",
        settled=now.settled,
        news=now.news if now.thinking else "",
        trouble=now.words,
        questions=tuple(Choice(q["told"], q["question"]) for q in known["questions"][:MOST_QUESTIONS]),
    )


def _place(book: Book, step: StepCard | None) -> int:
    """Which stage of the work the page stands for."""
    if step is None:
        return 2
    return 3 if step.id in book.complaints else {"check": 2, "repair": 4, "stop": 5}.get(step.kind, 2)


def suspect_rows(shop: Shop, record: JobRecord, known: dict[str, Any]) -> tuple[SuspectRow, ...]:
    """The suspects, best first; each keeps its number while the job is open."""
    book = shop.room.book
    named = [s for s in known["suspects"] if s["probability"] > LEAST_SUSPECT and s["faults"]][:MOST_SUSPECTS]
    numbers = _numbers(shop, record.job, ["+".join(s["faults"]) for s in named])
    return tuple(
        SuspectRow(
            numbers["+".join(s["faults"])], names(book, s["faults"]), tuple(s["faults"]),
            max(1, round(s["probability"] * 100)), odds_words(s["probability"]), level_of(s["probability"]),
            " ".join(book.faults[f].plain for f in s["faults"] if f in book.faults),
            tuple(Choice(file_of("fault", f), book.name("fault", f)) for f in s["faults"] if f in book.faults),
        )
        for s in named
    )


def _numbers(shop: Shop, job: str, keys: list[str]) -> dict[str, int]:
    """A number for each suspect, given once and kept with the job."""
    setting = f"{NUMBERS_KEY}-{job}"
    kept = [str(k) for k in shop.store.get_setting(setting, []) or []]
    fresh = [k for k in keys if k not in kept]
    if fresh:
        kept += fresh
        shop.store.put_setting(setting, kept)
    return {key: kept.index(key) + 1 for key in keys}


def names(book: Book, faults: list[str]) -> str:
    """A suspect's faults by name."""
    return " with ".join(book.name("fault", f) for f in faults) or "Nothing wrong"


def _cost(cost: dict[str, Any]) -> str:
    minutes = cost["minutes"]
    low, high = f"{minutes['low']:.0f}", f"{minutes['high']:.0f}"
    span = f", {low} to {high}" if low != high else ""
    return f"About {minutes['expected']:.0f} minutes to the end{span}."


def reading_rows(book: Book, record: JobRecord, odd: str | None) -> tuple[ReadingRow, ...]:
    """Everything that was read and still counts, the latest first."""
    last_odd = next((e.seq for e in reversed(record.readings) if e.body.get("check") == odd), None)
    return tuple(
        ReadingRow(e.act_id, book.name("check", c) if c in book.checks else book.name("complaint", c),
                   reading_words(book, e), clock_time(e.when), e.seq == last_odd,
                   c if c in book.checks and not book.checks[c].readings[0].several else "")
        for e in reversed(record.readings)
        if (c := str(e.body.get("check"))) in book.checks or c in book.complaints
    )


def reading_words(book: Book, event: Event) -> str:
    """A reading in the words it was given in."""
    reading, check = event.body.get("reading"), str(event.body.get("check"))
    if isinstance(reading, dict):
        return ", ".join(f"{k} {v if not isinstance(v, list) else ' '.join(map(str, v))}" for k, v in reading.items())
    fixed = {"still": "still so", "gone": "gone", "now-and-then": "now and then", "not-possible": "would not let me",
             "not-done": "not done"}
    word = str(reading)
    if word in fixed:
        return fixed[word]
    return outcome_name(book, check, word).lower() if check in book.checks else word


def undo_choice(book: Book, record: JobRecord) -> Choice | None:
    """The last act that still counts, by name and time."""
    try:
        act, _ = last_act(record)
    except InputError:
        return None
    event = next(e for e in reversed(record.events) if e.act_id == act)
    return Choice(act, f"{_act_name(book, event)}, {clock_time(event.when)}")


def _act_name(book: Book, event: Event) -> str:
    body = event.body
    match event.kind:
        case "reading":
            check = str(body.get("check"))
            shelf = "check" if check in book.checks else "complaint"
            name = book.name(shelf, check) if check in book.shelf(shelf) else check
            return f"{name} {reading_words(book, event)}"
        case "access":
            item = str(body.get("item"))
            return f"{book.name('access', item) if item in book.access else item} {body.get('state', '')}"
        case "repair":
            repair = str(body.get("repair"))
            return book.name("repair", repair) if repair in book.repairs else repair
    return event.kind


@dataclass(frozen=True, slots=True)
class NoClassPage:
    """A job whose kind of machine is not known yet."""

    head: JobHead
    act_id: str
    machines: tuple[Choice, ...]


def no_class_page(shop: Shop, job: str) -> NoClassPage:
    """What can be done before the kind of machine is known.

    Raises:
        InputError: there is no such job.
    """
    machines = sorted(shop.room.book.machines.values(), key=lambda m: m.name)
    return NoClassPage(head(shop, shop.record(job)), fresh_act(), tuple(Choice(m.id, m.name) for m in machines))
