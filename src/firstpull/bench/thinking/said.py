"""What is known and advised on a job, reckoned once for each state of it: by the workers, or here without them."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock
from typing import Any
from weakref import WeakKeyDictionary

from firstpull.bench.answer import answer
from firstpull.bench.nearby import may_light
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip, strip
from firstpull.bench.thinking.seen import Seen, see, settled_answer
from firstpull.bench.thinking.short import keep_short, said_in_short
from firstpull.workshop.fold import JobRecord


@dataclass(eq=False)
class _Kept:
    """One session's answer, and a lock so that two pages do not reckon it at the same time."""

    lock: Lock
    taken: int = -1
    answer: dict[str, Any] | None = None


_kept: WeakKeyDictionary[Session, _Kept] = WeakKeyDictionary()
_door = Lock()


def seen(shop: Shop, record: JobRecord, session: Session) -> Seen:
    """What can be shown now: with workers whatever there is, without them the settled answer."""
    if shop.pool is not None:
        return see(shop.pool, shop, record)
    return Seen(said_of(shop, record, session), True, True, "")


def said_of(shop: Shop, record: JobRecord, session: Session) -> dict[str, Any]:
    """The settled answer to everything that was taken so far, with a short word of it kept for the rack."""
    if shop.pool is not None:
        return settled_answer(shop.pool, shop, record)
    known = said(session)
    if said_in_short(shop, record) is None:
        keep_short(shop, record.job, shop.mark(record), known, may_light(session, known["next"]))
    return known


def said(session: Session) -> dict[str, Any]:
    """The answer to everything that was taken so far; asked again, it is not reckoned again."""
    with _door:
        kept = _kept.setdefault(session, _Kept(Lock()))
    taken = len(session.acts) * 10_000 + len(session.steps)
    with kept.lock:
        if kept.answer is None or kept.taken != taken:
            kept.answer, kept.taken = answer(session), taken
        return kept.answer


def suspected(shop: Shop, record: JobRecord, session: Session) -> list[tuple[frozenset[str], float]]:
    """What may be wrong now, best first, as the settled answer has it."""
    if shop.pool is None:
        return session.belief().suspects
    return [(frozenset(s["faults"]), float(s["probability"])) for s in said_of(shop, record, session)["suspects"]]


def probabilities(shop: Shop, record: JobRecord, session: Session) -> dict[str, dict[str, float]]:
    """Of every repair that it cures something, and of every fault that it was there, by id: `repair` and `cause`."""
    if shop.pool is None:
        belief = session.belief()
        return {"repair": belief.repair_probability, "cause": belief.cause_probability}
    known = said_of(shop, record, session)
    return {"repair": known["repair_probability"], "cause": known["cause_probability"]}


def strip_of(
    shop: Shop, record: JobRecord, session: Session, check: str, numbered: list[tuple[int, str, frozenset[str]]]
) -> Strip | None:
    """What a check would read on each suspect.

    Raises:
        FirstpullError: the workers did not come to it in time.
    """
    if shop.pool is None:
        return strip(session, check, numbered)
    found: Strip | None = shop.pool.call("strip", shop.mark(record), record, shop.prices(), check, numbered)
    return found
