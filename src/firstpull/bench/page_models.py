"""What a page shows, frozen: the face draws it and computes nothing."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import InputError
from firstpull.bench.answer import answer
from firstpull.bench.find import last_act, repairs_done, session_of
from firstpull.bench.release import Door, door
from firstpull.bench.shop import Shop
from firstpull.handbook.book import Book
from firstpull.reasoning.explain import odds_words, outcome_name
from firstpull.safety.interlocks import red
from firstpull.workshop.fold import JobRecord

MOST_OTHERS = 5
MOST_SUSPECTS = 6
UNIVERSAL_ANSWERS = (
    ("now-and-then", "Now and then"), ("not-possible", "Would not let me"), ("not-done", "Could not do"),
)


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to tap: what is sent and what is read on it."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class StepCard:
    """A step: what to do, what to mind, and how to answer."""

    kind: str
    id: str
    name: str
    minutes: int
    waiting: int
    why: str
    cautions: tuple[tuple[str, str, bool], ...]
    moves: tuple[Choice, ...]
    how: tuple[str, ...]
    answers: tuple[Choice, ...]
    unit: str
    places: tuple[Choice, ...]
    key: str
    drive: str


@dataclass(frozen=True, slots=True)
class SuspectRow:
    """A suspect with its odds in words and in a hundred."""

    number: int
    name: str
    in_hundred: int
    odds: str


@dataclass(frozen=True, slots=True)
class JobHead:
    """What stands on top of every page of a job."""

    job: str
    number: str
    machine: str
    complaint: str
    stage: str
    version: int
    off: tuple[Choice, ...]
    added: tuple[Choice, ...]
    unstoppable: bool
    questions: tuple[str, ...]
    notices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FindPage:
    """Finding: the next step, the suspects, other steps, and what can be undone."""

    head: JobHead
    act_id: str
    step: StepCard
    others: tuple[StepCard, ...]
    suspects: tuple[SuspectRow, ...]
    outside: str
    cost: str
    undo: Choice | None
    fits_nothing: bool


@dataclass(frozen=True, slots=True)
class ReleasePage:
    """The way out: every proof, what stands in the way, and both doors."""

    head: JobHead
    act_id: str
    door: Door
    values: tuple[tuple[str, str, str], ...]
    released: str
    answers: dict[str, tuple[tuple[str, str], ...]]


def fresh_act() -> str:
    """An id for one act, so that a form sent twice is kept once."""
    return uuid.uuid4().hex


def head(shop: Shop, record: JobRecord) -> JobHead:
    """The head of a job's pages."""
    book = shop.room.book
    live = shop.live(record)
    state = live.session.state if live else None
    away = sorted(state.away) if state else []
    return JobHead(
        job=record.job,
        number=record.number or record.job,
        machine=book.name("machine", record.machine_class) if record.machine_class else "kind not known yet",
        complaint=" ".join(record.words) or ", ".join(book.name("complaint", c) for c in record.complaint),
        stage=record.stage,
        version=record.last_seq,
        off=tuple(Choice(i, book.name("access", i)) for i in away if not book.access[i].added),
        added=tuple(Choice(i, book.name("access", i)) for i in away if book.access[i].added),
        unstoppable=state is not None and red(state.tokens),
        questions=_questions(book, live.session.questions if live else []),
        notices=live.notices if live else (),
    )


def _questions(book: Book, asked: list[Any]) -> tuple[str, ...]:
    return tuple(
        f"{book.name('access', q.item)}: written down as {q.recorded}, but '{book.name('check', q.check)}' needs it "
        f"{q.implied}. Which is it?" for q in asked[-2:]
    )


def find_page(shop: Shop, job: str) -> FindPage:
    """The page on which the fault is found.

    Raises:
        InputError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    said = answer(session)
    others = [r for r in said["ranked"][1:] if r["kind"] in ("check", "repair")][:MOST_OTHERS]
    named = [s for s in said["suspects"] if s["probability"] > 0.005][:MOST_SUSPECTS]
    return FindPage(
        head=head(shop, record),
        act_id=fresh_act(),
        step=_step(shop.room.book, said["next"]),
        others=tuple(_step(shop.room.book, o) for o in others),
        suspects=tuple(_suspect(shop.room.book, i, s) for i, s in enumerate(named, start=1)),
        outside=odds_words(said["not_in_handbook"]),
        cost=_cost(said["cost"]),
        undo=_undo(shop, record),
        fits_nothing=said["surprise"]["p_value"] < 0.01,
    )


def _suspect(book: Book, number: int, raw: dict[str, Any]) -> SuspectRow:
    share = float(raw["probability"])
    return SuspectRow(number, _names(book, raw["faults"]), round(share * 100), odds_words(share))


def _names(book: Book, faults: list[str]) -> str:
    return " with ".join(book.name("fault", f) for f in faults) or "Nothing wrong"


def _cost(cost: dict[str, Any]) -> str:
    minutes = cost["minutes"]
    return f"About {minutes['expected']:.0f} minutes to the end, {minutes['low']:.0f} to {minutes['high']:.0f}."


def _undo(shop: Shop, record: JobRecord) -> Choice | None:
    try:
        act, name = last_act(record)
    except InputError:
        return None
    words = name.split()
    book = shop.room.book
    for kind in ("check", "access", "repair"):
        if words[0] in book.shelf(kind):
            return Choice(act, " ".join([book.name(kind, words[0]), *words[1:]]))
    return Choice(act, name)


def _step(book: Book, raw: dict[str, Any]) -> StepCard:
    """A step as a card; a check brings its outcomes, a complaint whether it still holds."""
    kind, name = raw["kind"], raw["id"]
    check = book.checks.get(name) if kind == "check" else None
    reading = check.readings[0] if check else None
    several = next((r for r in check.readings if r.several), None) if check else None
    answers: list[Choice] = []
    if reading is not None and not reading.several:
        answers = [Choice(o.id, outcome_name(book, name, o.id)) for o in reading.outcomes]
    elif kind == "check":
        answers = [Choice("still", "Still so"), Choice("gone", "Gone")]
    if check:
        answers += [Choice(*a) for a in UNIVERSAL_ANSWERS]
    how = check.how if check else book.repairs[name].how if name in book.repairs and kind == "repair" else ()
    return StepCard(
        kind=kind, id=name, name=raw["name"], minutes=round(raw["minutes"]), waiting=round(raw.get("waiting", 0)),
        why=raw.get("why") or raw.get("why_not", ""),
        cautions=tuple((c["text"], c["more"], c["danger"]) for c in raw.get("cautions", [])),
        moves=tuple(Choice(f"{m['item']}={m['state']}", f"{book.name('access', m['item'])}: {m['state']}")
                    for m in raw.get("access", [])),
        how=how, answers=tuple(answers), unit=reading.unit if reading and reading.number else "",
        places=tuple(Choice(o.id, o.name) for o in several.outcomes) if several else (),
        key=(several.key or "") if several else "",
        drive=raw.get("with", {}).get("drive", raw.get("drive", "none")),
    )


def release_page(shop: Shop, job: str) -> ReleasePage:
    """The page of proofs and doors.

    Raises:
        InputError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    written = {str(e.body.get("name")): f"{e.body.get('value'):g} {e.body.get('unit')}" for e in record.values}
    wanted = [v for r in repairs_done(shop, record) for v in r.values]
    return ReleasePage(
        head=head(shop, record), act_id=fresh_act(), door=door(shop, job),
        values=tuple((v.id, f"{v.name} [{v.unit}]", written.get(v.id, "")) for v in wanted),
        released=str(record.release.body.get("way")) if record.release else "",
        answers={p.id: _proof_answers(shop.room.book, p.check) for p in door(shop, job).proofs},
    )


def _proof_answers(book: Book, check: str) -> tuple[tuple[str, str], ...]:
    if check in book.complaints:
        return (("gone", "Gone"), ("still", "Still so"))
    return tuple((o.id, o.name) for o in book.checks[check].readings[0].outcomes)


@dataclass(frozen=True, slots=True)
class Tag:
    """A job on the rack."""

    job: str
    number: str
    machine: str
    complaint: str
    stage: str
    promised: str
    unstoppable: bool


def rack(shop: Shop, search: str = "") -> tuple[Tag, ...]:
    """The jobs on the rack: those that cannot be stopped first, then by promised day, then as they came."""
    lines = shop.store.search(search) if search.strip() else shop.store.jobs(open_only=True)
    tags = []
    for line in lines:
        top = head(shop, shop.record(line.job))
        tags.append(Tag(line.job, top.number, top.machine, top.complaint, line.stage, line.promised, top.unstoppable))
    return tuple(sorted(tags, key=_place_on_the_rack))


def _place_on_the_rack(tag: Tag) -> tuple[bool, str, int]:
    return (not tag.unstoppable, tag.promised or "9999", int(tag.number) if tag.number.isdigit() else 0)


@dataclass(frozen=True, slots=True)
class IntakePage:
    """What the counter can choose from."""

    machines: tuple[Choice, ...]
    told: tuple[Choice, ...]
    complaints: tuple[str, ...]


def intake_page(shop: Shop) -> IntakePage:
    """The choices at the counter."""
    book = shop.room.book
    return IntakePage(
        tuple(Choice(m.id, m.name) for m in sorted(book.machines.values(), key=lambda m: m.name)),
        tuple(Choice(t.id, t.question) for t in book.told.values()),
        tuple(c.name for c in book.complaints.values()),
    )


@dataclass(frozen=True, slots=True)
class NoClassPage:
    """A job whose kind of machine is not known yet."""

    head: JobHead
    machines: tuple[Choice, ...]


def no_class_page(shop: Shop, job: str) -> NoClassPage:
    """What can be done before the kind of machine is known.

    Raises:
        InputError: there is no such job.
    """
    return NoClassPage(head(shop, shop.record(job)), intake_page(shop).machines)
