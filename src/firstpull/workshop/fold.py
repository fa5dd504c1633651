"""A job's events folded into one frozen record of what is known now. Pure, and it refuses nothing.

Acts may come late, several at once, twice or out of order; an event that cannot be understood is counted
under `unknown` and shown. Withdrawn acts are left out of everything and stay listed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money
from firstpull.workshop.events import Event, current, is_known, listed
from firstpull.workshop.minutes import Worked, worked
from firstpull.workshop.stages import CLOSED, implied_stage
from firstpull.workshop.withdrawn import standing, withdrawn_acts


@dataclass(frozen=True)
class JobRecord:
    """What the record says of one job.

    The lists hold the events that count, in the order they were recorded.
    """

    job: str
    last_seq: int = 0
    opened_at: str = ""
    changed_at: str = ""
    number: str = ""
    person: str = ""
    machine: str = ""
    machine_class: str = ""
    complaint: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    spending_limit: Money | None = None
    conditions: Mapping[str, Any] = field(default_factory=dict)
    stamp: Mapping[str, Any] = field(default_factory=dict)
    left_with: tuple[str, ...] = ()
    place: str = ""
    stage: str = "received"
    waiting_until: str = ""
    promised: str = ""
    comeback_of: str = ""
    cause_class: str = ""
    worked: Worked = field(default_factory=Worked)
    told_events: tuple[Event, ...] = ()
    readings: tuple[Event, ...] = ()
    access: tuple[Event, ...] = ()
    repairs: tuple[Event, ...] = ()
    values: tuple[Event, ...] = ()
    parts: tuple[Event, ...] = ()
    estimates: tuple[Event, ...] = ()
    approvals: tuple[Event, ...] = ()
    advised: tuple[Event, ...] = ()
    proofs: tuple[Event, ...] = ()
    notes: tuple[Event, ...] = ()
    photos: tuple[Event, ...] = ()
    photo_marks: tuple[Event, ...] = ()
    abandoned: tuple[Event, ...] = ()
    follow_ups: tuple[Event, ...] = ()
    lent: tuple[str, ...] = ()
    release: Event | None = None
    handed_back: Event | None = None
    erased: bool = False
    withdrawn: frozenset[str] = frozenset()
    unknown: tuple[Event, ...] = ()
    events: tuple[Event, ...] = ()

    @property
    def closed(self) -> bool:
        """Whether the machine has left for good."""
        return self.stage in CLOSED

    @property
    def minutes(self) -> float:
        """Hands-on minutes of the closed spells."""
        return self.worked.hands_on


_LISTS = {
    "told": "told_events", "reading": "readings", "access": "access", "repair": "repairs", "value": "values",
    "part": "parts", "estimate": "estimates", "approval": "approvals", "advised": "advised", "proof":
    "proofs", "note": "notes", "photo": "photos", "abandoned": "abandoned", "follow-up": "follow_ups",
    "photo-for-owner": "photo_marks",
}  # fmt: skip


def money_of(body: Any) -> Money | None:
    """The money a body holds, or nothing when it holds none that can be read."""
    try:
        return Money.of(str(body["amount"]), str(body["currency"]))
    except (KeyError, TypeError, ArithmeticError, FirstpullError):
        return None


def fold(events: Sequence[Event], job: str = "", until: str = "") -> JobRecord:
    """Fold a job's events, in any order, into its record.

    `until` lets a running clock count up to that moment.
    """
    ordered = tuple(sorted((current(one) for one in events), key=lambda one: one.seq))
    job = job or (ordered[0].job if ordered else "")
    facts: dict[str, Any] = {"job": job, "events": ordered, "withdrawn": withdrawn_acts(ordered)}
    lists: dict[str, list[Event]] = {}
    unknown: list[Event] = []
    counted = standing(ordered)
    for event in counted:
        if not is_known(event):
            unknown.append(event)
            continue
        facts["stage"] = implied_stage(event, facts.get("stage", "received"))
        if event.kind in _LISTS:
            lists.setdefault(_LISTS[event.kind], []).append(event)
        if event.kind in _SCALARS:
            _SCALARS[event.kind](facts, event)
    if ordered:
        facts["last_seq"] = ordered[-1].seq
        facts["changed_at"] = ordered[-1].at
        facts.setdefault("opened_at", ordered[0].at)
    facts["lent"] = tuple(name for name, out in facts.pop("_lent", {}).items() if out)
    facts["worked"] = worked((one for one in counted if one.kind == "clock"), until)
    facts["unknown"] = tuple(unknown)
    facts.update({name: tuple(found) for name, found in lists.items()})
    return JobRecord(**facts)


def _add(facts: dict[str, Any], name: str, found: Any) -> None:
    """Join new words or ids to those known, each once, in the order they came."""
    known = facts.get(name, ())
    facts[name] = known + tuple(dict.fromkeys(item for item in listed(found) if item not in known))


def _take(facts: dict[str, Any], event: Event, *names: str) -> None:
    for name in names:
        if event.body.get(name):
            facts[name] = str(event.body[name])


def _merge(facts: dict[str, Any], event: Event, *names: str) -> None:
    for name in names:
        if isinstance(event.body.get(name), Mapping):
            facts[name] = {**facts.get(name, {}), **event.body[name]}


def _opened(facts: dict[str, Any], event: Event) -> None:
    facts["opened_at"] = event.when
    _take(facts, event, "number", "person", "machine", "machine_class", "promised")
    _take(facts, event, "comeback_of", "place")
    _merge(facts, event, "conditions", "stamp")
    for name in ("complaint", "words", "told", "left_with"):
        _add(facts, name, event.body.get(name))
    facts["spending_limit"] = money_of(event.body.get("spending_limit")) or facts.get("spending_limit")


def _told(facts: dict[str, Any], event: Event) -> None:
    for name in ("complaint", "words", "told"):
        _add(facts, name, event.body.get(name))


def _stage(facts: dict[str, Any], event: Event) -> None:
    facts["waiting_until"] = str(event.body.get("until") or "")
    _take(facts, event, "promised", "place")


def _rebased(facts: dict[str, Any], event: Event) -> None:
    _merge(facts, event, "stamp")


def _lent(facts: dict[str, Any], event: Event) -> None:
    facts.setdefault("_lent", {})[str(event.body.get("thing"))] = event.body.get("state", "out") == "out"


def _comeback(facts: dict[str, Any], event: Event) -> None:
    facts["comeback_of"] = str(event.body.get("of") or facts.get("comeback_of", ""))
    _take(facts, event, "cause_class")


def _release(facts: dict[str, Any], event: Event) -> None:
    facts["release"] = event


def _handed_back(facts: dict[str, Any], event: Event) -> None:
    facts["handed_back"] = event


def _erased(facts: dict[str, Any], event: Event) -> None:
    facts["erased"] = event.kind == "erased"


_SCALARS = {
    "opened": _opened, "told": _told, "stage": _stage, "rebased": _rebased, "lent": _lent,
    "comeback": _comeback, "release": _release, "handed-back": _handed_back, "erased": _erased,
}  # fmt: skip
