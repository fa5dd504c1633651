"""A workshop that is a school: what a learner may not do before an instructor has let it go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import InputError
from firstpull.bench.shop import Done, Shop
from firstpull.workshop.events import Event, listed
from firstpull.workshop.fold import JobRecord

SCHOOL_KEY = "school"
# The handbook's hazard classes, worst first, as they are read on the pages.
HAZARDS = {
    "mains": "mains current", "blade": "a blade", "running": "a running engine", "fuel": "petrol", "spark": "sparks",
    "turns": "a turning engine", "pressure": "pressure", "heat": "hot parts",
}


@dataclass(frozen=True, slots=True)
class School:
    """Whether learners are here, and which hazards wait for an instructor."""

    on: bool = False
    waits: frozenset[str] = frozenset(HAZARDS)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a learner asked to be let do, on which job."""

    job: str
    act: str
    id: str
    name: str
    hazard: str
    by: str
    at: str


def school_of(shop: Shop) -> School:
    """The school as the shop has set it; none is the usual."""
    held = shop.store.get_setting(SCHOOL_KEY) or {}
    if not isinstance(held, Mapping):
        return School(True)
    waits = frozenset(listed(held["waits"])) & HAZARDS.keys() if "waits" in held else frozenset(HAZARDS)
    return School(bool(held.get("on")), waits)


def keep_school(shop: Shop, on: bool, waits: Sequence[str]) -> None:
    """Say whether learners are here, and what waits for an instructor.

    Raises:
        InputError: there is no such class of hazards.
    """
    unknown = [one for one in waits if one not in HAZARDS]
    if unknown:
        raise InputError(f"no hazard '{unknown[0][:40]}'", "school", ", ".join(HAZARDS))
    shop.store.put_setting(SCHOOL_KEY, {"on": on, "waits": sorted(waits)})


def waits_for(shop: Shop, step: Mapping[str, Any]) -> str:
    """The hazard for which a step of a learner waits; empty when it does not wait."""
    school = school_of(shop)
    found = _hazards(shop, step) & school.waits if school.on else frozenset()
    return next((hazard for hazard in HAZARDS if hazard in found), "")


def is_free(shop: Shop, job: str, step: Mapping[str, Any]) -> bool:
    """Whether an instructor has let this step go on this job, and it was not done since."""
    record = shop.record(job)
    return all(_freed(record, wanted) for wanted in _wanted(step))


def _freed(record: JobRecord, wanted: str) -> bool:
    asked = {e.act_id for e in record.notes if _wish(e) == wanted}
    freed = max((e.seq for e in _answers(record) if e.body.get("yes") and e.body.get("how") in asked), default=0)
    done = [*record.readings, *record.repairs]
    since = max((e.seq for e in done if wanted in (e.body.get("check"), e.body.get("repair"))), default=0)
    return freed > since


def propose(shop: Shop, job: str, wanted: str, *, act_id: str, based_on: int, by: str) -> Done:
    """Keep that a learner asks to be let do a check or a repair.

    Raises:
        InputError: the handbook has no such check or repair.
    """
    book = shop.room.book
    if wanted not in book.checks and wanted not in book.repairs:
        raise InputError(f"no check or repair '{wanted[:40]}'", "step", "one of the handbook")
    body = {"about": f"{_ASKS}{wanted}", "text": f"Asks an instructor to let it go: {_name(shop, wanted)}"}
    return shop.do(job, "note", body, act_id=act_id, based_on=based_on, by=by)


def free(shop: Shop, job: str, asked: str, yes: bool, *, act_id: str, based_on: int, by: str) -> Done:
    """Keep an instructor's yes or no to what a learner asked for.

    Raises:
        InputError: nothing of the kind waits on this job.
    """
    if asked not in {one.act for one in asked_on(shop, shop.record(job))} and not shop.store.find_act(act_id):
        raise InputError("nothing of the kind waits", f"job {job}", "one of those that wait")
    body = {"to": "instructor", "yes": yes, "who": by, "how": asked}
    return shop.do(job, "approval", body, act_id=act_id, based_on=based_on, by=by)


def asked_on(shop: Shop, record: JobRecord) -> tuple[Asked, ...]:
    """What waits for an instructor on a job, as it was asked."""
    answered = {str(e.body.get("how")) for e in _answers(record)}
    waiting = [e for e in record.notes if _wish(e) and e.act_id not in answered]
    return tuple(
        Asked(record.job, e.act_id, _wish(e), _name(shop, _wish(e)),
              ", ".join(HAZARDS[h] for h in HAZARDS if h in _hazards(shop, {"check": _wish(e), "repair": _wish(e)})),
              e.by, e.at)
        for e in waiting
    )  # fmt: skip


def all_asked(shop: Shop) -> tuple[Asked, ...]:
    """What waits for an instructor on all open jobs."""
    lines = shop.store.jobs(open_only=True) if school_of(shop).on else ()
    return tuple(one for line in lines for one in asked_on(shop, shop.record(line.job)))


_ASKS = "ask:"


def _wish(event: Event) -> str:
    """The check or repair that a note asks for; empty for every other note."""
    about = event.body.get("about")
    return about.removeprefix(_ASKS) if isinstance(about, str) and about.startswith(_ASKS) else ""


def _answers(record: JobRecord) -> list[Event]:
    return [e for e in record.approvals if e.body.get("to") == "instructor"]


def _wanted(step: Mapping[str, Any]) -> list[str]:
    return [str(step[key]) for key in ("check", "repair") if step.get(key)]


def _hazards(shop: Shop, step: Mapping[str, Any]) -> frozenset[str]:
    """The hazards of the check and the repair that a step names."""
    book = shop.room.book
    found = [book.checks.get(str(step.get("check"))), book.repairs.get(str(step.get("repair")))]
    return frozenset(str(entry.hazard) for entry in found if entry is not None)


def _name(shop: Shop, wanted: str) -> str:
    book = shop.room.book
    return book.name("check" if wanted in book.checks else "repair", wanted)
