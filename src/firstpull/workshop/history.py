"""The same machine again: what was done before, and what a comeback opens with."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from firstpull.base.clock import moment
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord

CAUSE_CLASSES = ("wrong-diagnosis", "second-fault", "part-faulty", "workmanship", "owner", "not-related")
COMEBACK_DAYS = 90  # common practice, no source; the shop's own period replaces it


@dataclass(frozen=True, slots=True)
class Past:
    """One earlier job of a machine in a few facts."""

    job: str
    opened_at: str
    complaint: tuple[str, ...]
    repairs: tuple[str, ...]
    values: tuple[tuple[str, object, str], ...]
    way: str
    days_ago: int | None


@dataclass(frozen=True, slots=True)
class Comeback:
    """What lies on the bench when a machine comes back: the first job's proofs, and what was never tested."""

    of: str
    days: int | None
    inside_period: bool
    same_complaint: bool
    proofs: tuple[Event, ...]
    not_tested: tuple[str, ...]
    first_look_free: bool
    cause_classes: tuple[str, ...] = CAUSE_CLASSES


def _day(text: str) -> date | None:
    try:
        found: datetime = moment(text)
    except ValueError:
        return None
    return found.date()


def _days_between(first: str, last: str) -> int | None:
    start, end = _day(first), _day(last)
    return None if start is None or end is None else (end - start).days


def history(records: Iterable[JobRecord], now: str) -> tuple[Past, ...]:
    """The earlier jobs of a machine, the last one first."""
    found = sorted(records, key=lambda record: record.opened_at, reverse=True)
    return tuple(
        Past(
            record.job,
            record.opened_at,
            record.complaint,
            tuple(str(event.body.get("repair")) for event in record.repairs),
            tuple(
                (str(event.body.get("name")), event.body.get("value"), str(event.body.get("unit", "")))
                for event in record.values
            ),
            str(record.release.body.get("way")) if record.release else "",
            _days_between(record.opened_at, now),
        )
        for record in found
    )


def ended_at(record: JobRecord) -> str:
    """When a job ended: handed back, else released, else last changed."""
    end = record.handed_back or record.release
    return end.when if end is not None else record.changed_at


def comeback(
    first: JobRecord,
    complaint: Sequence[str],
    now: str,
    *,
    wanted_proofs: Sequence[str] = (),
    period_days: int = COMEBACK_DAYS,
) -> Comeback:
    """Lay the first job beside the new complaint.

    `wanted_proofs` are those the handbook asks for its repairs.
    """
    days = _days_between(ended_at(first), now)
    shown = {str(event.body.get("proof")) for event in first.proofs if event.body.get("result") in ("passed", "failed")}
    undone = [str(event.body.get("proof")) for event in first.proofs if str(event.body.get("proof")) not in shown]
    reduced = [] if first.release is None else [str(one) for one in first.release.body.get("reduced", [])]
    missing = [proof for proof in wanted_proofs if proof not in shown]
    inside = days is None or days <= period_days
    return Comeback(
        first.job, days, inside, bool(set(complaint) & set(first.complaint)), first.proofs,
        tuple(dict.fromkeys([*undone, *reduced, *missing])), inside,
    )  # fmt: skip
