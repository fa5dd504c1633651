"""Finding, repairing and undoing: everything that is done at the machine, as it is entered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from firstpull.base import quantity
from firstpull.base.errors import InputError
from firstpull.bench.answer import answer
from firstpull.bench.case import Step, read_step
from firstpull.bench.nearby import with_room
from firstpull.bench.session import Question, Session
from firstpull.bench.shop import Done, Shop
from firstpull.bench.thinking.seen import settled_answer
from firstpull.handbook.entries import Repair
from firstpull.reasoning.acts import NOT_DONE, ReadingAct
from firstpull.workshop.fold import JobRecord

SHOWN_SUSPECTS = 8


def enter(shop: Shop, job: str, raw: Mapping[str, Any], *, act_id: str, based_on: int, by: str) -> Done:
    """Enter one step: a check with its reading, an access move, a repair, or something told.

    The step is tried on the job as it stands before it is kept, and what it shows of the machine's state is kept with
    it. While the class of the machine is not known it is kept as it was said.

    Raises:
        FirstpullError: the step cannot be read; nothing is kept then.
    """
    if shop.store.find_act(act_id):
        return Done(shop.record(job))
    record = shop.record(job)
    step = read_step(raw, shop.room.book)
    kind, body = _tried(_copy_of(shop, record), step, raw)
    return shop.do(job, kind, body, act_id=act_id, based_on=based_on, by=by)


def enter_many(
    shop: Shop, job: str, steps: Sequence[Mapping[str, Any]], *, act_id: str, based_on: int, by: str
) -> Done:
    """Enter several steps done together; which of them cured stays open.

    Raises:
        FirstpullError: one of them cannot be read; none is kept then.
    """
    record = shop.record(job)
    trial = _copy_of(shop, record)
    acts: list[tuple[str, Mapping[str, Any]]] = [_tried(trial, read_step(raw, shop.room.book), raw) for raw in steps]
    return shop.do_all(job, acts, act_id=act_id, based_on=based_on, by=by)


def event_for(shop: Shop, record: JobRecord, raw: Mapping[str, Any]) -> tuple[str, dict[str, Any]]:
    """The kind and body of the event that a step would be kept as, tried on the job as it stands; nothing is kept.

    Raises:
        FirstpullError: the step cannot be read, or the machine has no such thing.
    """
    return _tried(_copy_of(shop, record), read_step(raw, shop.room.book), raw)


def _copy_of(shop: Shop, record: JobRecord) -> Session | None:
    """The job to try a step on; None while its class is not known: a fact is kept all the same."""
    live = shop.live(record)
    return None if live is None else live.session.copy()


def _tried(trial: Session | None, step: Step, raw: Mapping[str, Any]) -> tuple[str, dict[str, Any]]:
    """The event of a step, after the step was taken on the trial job."""
    if trial is None:
        return _event(step, raw, [], None)
    before = len(trial.questions)
    trial.take(step)
    return _event(step, raw, trial.questions[before:], trial)


def session_of(shop: Shop, record: JobRecord) -> Session:
    """The live session of a job.

    Raises:
        InputError: its machine class is not known, so nothing can be reckoned.
    """
    live = shop.live(record)
    if live is None:
        raise InputError("the kind of machine is not known yet", f"job {record.job}", "say which kind it is")
    return live.session


def _event(
    step: Step, raw: Mapping[str, Any], asked: Sequence[Question], after: Session | None
) -> tuple[str, dict[str, Any]]:
    """The event of a step, with the arrangement that the reading was taken in."""
    match step.kind:
        case "access":
            return "access", {"item": step.id, "state": step.state}
        case "repair":
            return "repair", {"repair": step.id, "by": step.by}
        case "told":
            return "told", {"told": [step.id], "answer": step.answer}
    body: dict[str, Any] = {"check": step.id, "reading": raw["reading"], "while": step.mood, "times": step.times}
    body |= {k: getattr(step, k) for k in ("instrument", "spread") if getattr(step, k) is not None}
    if step.by != "shop":
        body["by"] = step.by
    if after is None:
        body["arrangement"] = {k: getattr(step, k) for k in ("drive", "thermal", "choke", "load") if getattr(step, k)}
        return "reading", body
    last = after.acts[-1] if after.acts else None
    if isinstance(last, ReadingAct) and last.check == step.id and step.reading != NOT_DONE:
        place = last.arrangement
        body["arrangement"] = {
            "off": sorted(place.off), "added": sorted(place.added), "drive": place.drive, "thermal": place.thermal,
            "choke": place.choke, "load": place.load,
        }
        body["implied"] = sorted(after.state.implied)
        if asked:
            body["question"] = [q.item for q in asked]
    return "reading", body


def undo(shop: Shop, job: str, undone: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Withdraw an act by an event; it stays on the page and counts no longer.

    Raises:
        InputError: there is no such act on this job.
    """
    if undone not in {e.act_id for e in shop.record(job).events}:
        raise InputError(f"no act '{undone}'", f"job {job}", "one of the acts of this job")
    return shop.do(job, "withdrawn", {"acts": [undone]}, act_id=act_id, based_on=based_on, by=by)


def note(shop: Shop, job: str, text: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Keep free words.

    Raises:
        InputError: there are none.
    """
    if not text.strip():
        raise InputError("no words", "note", "what should be remembered")
    return shop.do(job, "note", {"text": text.strip()}, act_id=act_id, based_on=based_on, by=by)


def set_value(shop: Shop, job: str, name: str, value: str, unit: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Write down a value that was set at a repair.

    Raises:
        FirstpullError: it is not a number with a unit that fits.
    """
    record = shop.record(job)
    wanted = next((v for r in repairs_done(shop, record) for v in r.values if v.id == name), None)
    number = quantity.parse(f"{value} {unit}", wanted.unit if wanted else unit)
    body = {"name": name, "value": number, "unit": wanted.unit if wanted else unit}
    return shop.do(job, "value", body, act_id=act_id, based_on=based_on, by=by)


def repairs_done(shop: Shop, record: JobRecord) -> list[Repair]:
    """The repairs of this handbook that were done on a job by the shop."""
    repairs = shop.room.book.repairs
    ours = [str(e.body.get("repair")) for e in record.repairs if (e.body.get("by") or "shop") == "shop"]
    return [repairs[name] for name in ours if name in repairs]


def what_next(shop: Shop, job: str, depth: int = 2) -> dict[str, Any]:
    """Everything known and advised on a job, as plain values.

    Raises:
        FirstpullError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    known = answer(session, depth) if shop.pool is None else settled_answer(shop.pool, shop, record)
    return {**known, "next": with_room(shop, job, session, known["next"])}


def keep_advice(shop: Shop, job: str, said: Mapping[str, Any], *, act_id: str) -> None:
    """Keep what the program said, so that a closed job shows what was said then."""
    body = {
        "next": {k: said["next"].get(k) for k in ("kind", "id", "why", "minutes")},
        "suspects": said["suspects"][:SHOWN_SUSPECTS],
        "cost": said["cost"],
        "stamp": said["stamp"],
    }
    shop.do(job, "advised", body, act_id=act_id, based_on=0, by="firstpull")



def last_act(record: JobRecord) -> tuple[str, str]:
    """The last thing entered that still counts, and its name.

    Raises:
        InputError: there is nothing to undo.
    """
    undoable = ("reading", "access", "repair", "told", "note", "value")
    for event in reversed(record.events):
        if event.kind in undoable and event.act_id not in record.withdrawn:
            body = event.body
            name = body.get("check") or body.get("item") or body.get("repair") or body.get("name") or event.kind
            return event.act_id, f"{name} {body.get('reading', body.get('state', ''))}".strip()
    raise InputError("nothing to undo", f"job {record.job}", "enter something first")
