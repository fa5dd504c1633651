"""Machines nobody fetches: the workshop's own local rule as data, the days counted, the next step named.

No law is built in. The rule is what the user wrote down for their place; until one is written nothing may be
sold.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Literal

from firstpull.base.clock import moment
from firstpull.base.errors import InputError
from firstpull.base.money import Money
from firstpull.workshop.fold import JobRecord, money_of


@dataclass(frozen=True, slots=True)
class NoticeRule:
    """What holds at this place: when a notice may go out, how, and how long it must run."""

    days_after_ready: int
    notice_days: int
    how: tuple[str, ...]
    proof_of_posting: bool = True
    storage_per_day: Money | None = None
    surplus_held: bool = True
    source: str = ""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> NoticeRule:
        """The rule from the shop's settings.

        Raises:
            InputError: when a number or the way of giving notice is missing; nothing is assumed.
        """
        try:
            rule = cls(
                int(raw["days_after_ready"]), int(raw["notice_days"]), tuple(str(one) for one in raw["how"]),
                bool(raw.get("proof_of_posting", True)), money_of(raw.get("storage_per_day")),
                bool(raw.get("surplus_held", True)), str(raw.get("source", "")),
            )  # fmt: skip
        except (KeyError, TypeError, ValueError) as error:
            raise InputError(
                f"the rule lacks {error}", "abandoned machines", "days_after_ready, notice_days, how"
            ) from error
        if rule.days_after_ready < 0 or rule.notice_days < 0 or not rule.how:
            raise InputError("the rule cannot be meant", "abandoned machines", "days from 0 and a way of giving notice")
        return rule


@dataclass(frozen=True, slots=True)
class Unfetched:
    """Where a machine that nobody fetches stands, and what may be done next."""

    step: Literal["not-ready", "wait", "give-notice", "prove-posting", "notice-runs", "may-dispose", "disposed"]
    since: str = ""
    until: str = ""
    storage: Money | None = None
    must: tuple[str, ...] = ()


def _day(text: str) -> date | None:
    try:
        found: datetime = moment(text)
    except ValueError:
        return None
    return found.date()


def unfetched(record: JobRecord, rule: NoticeRule | None, today: date) -> Unfetched:
    """Count the days since the customer was told that the machine is ready, by the rule of the place."""
    steps = {str(event.body.get("step")): event for event in record.abandoned}
    if record.handed_back is not None or "disposed" in steps:
        return Unfetched("disposed" if "disposed" in steps else "not-ready")
    told = steps.get("ready") or record.release
    since = _day(told.when) if told is not None else None
    if since is None:
        return Unfetched("not-ready")
    if rule is None:
        return Unfetched("wait", since.isoformat(), must=("write down the rule of this place first",))
    storage = None if rule.storage_per_day is None else rule.storage_per_day * max(0, (today - since).days)
    notice = steps.get("notice")
    given = _day(notice.when) if notice is not None else None
    first = since + timedelta(days=rule.days_after_ready)
    if notice is None or given is None:
        step: Literal["wait", "give-notice"] = "give-notice" if today >= first else "wait"
        return Unfetched(step, since.isoformat(), first.isoformat(), storage, rule.how)
    if rule.proof_of_posting and not notice.body.get("proof"):
        return Unfetched("prove-posting", given.isoformat(), storage=storage, must=("keep the proof of posting",))
    end = given + timedelta(days=rule.notice_days)
    if today < end:
        return Unfetched("notice-runs", given.isoformat(), end.isoformat(), storage)
    return Unfetched("may-dispose", given.isoformat(), end.isoformat(), storage, _musts(record, rule))


def _musts(record: JobRecord, rule: NoticeRule) -> tuple[str, ...]:
    must = ["drain the fuel", "note the step and what it brought"]
    if rule.surplus_held:
        must.append("hold what is left over the bill for the owner")
    if any(event.body.get("result") == "failed" for event in record.proofs) or record.release is None:
        must.append("never sell it as working: a safety proof failed or is missing")
    elif record.release.body.get("way") == "returned":
        must.append("never sell it as working: it was not released as working")
    return tuple(must)
