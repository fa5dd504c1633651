"""What is known and advised on a job, reckoned once for each state of it, and a short word of that for the rack."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock
from typing import Any
from weakref import WeakKeyDictionary

from firstpull.bench.answer import answer
from firstpull.bench.nearby import may_light
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.workshop.fold import JobRecord

SHORT_KEY = "said-in-short"


@dataclass(eq=False)
class _Kept:
    """One session's answer, and a lock so that two pages do not reckon it at the same time."""

    lock: Lock
    taken: int = -1
    answer: dict[str, Any] | None = None
    rough_taken: int = -1
    rough: dict[str, Any] | None = None


_kept: WeakKeyDictionary[Session, _Kept] = WeakKeyDictionary()
_door = Lock()


@dataclass(frozen=True, slots=True)
class Short:
    """The next step of a job as the rack shows it; `lights` when it sparks or runs."""

    name: str
    minutes: int
    left: int
    lights: bool = False


def said_of(shop: Shop, record: JobRecord, session: Session) -> dict[str, Any]:
    """The answer to everything that was taken so far, with a short word of it kept for the rack."""
    known = said(session)
    if said_in_short(shop, record) is None:
        _keep_short(shop, record, session, known)
    return known


def said_at_once(shop: Shop, record: JobRecord, session: Session) -> tuple[dict[str, Any], bool]:
    """The settled answer when it is known already, else a rougher one that comes sooner; and whether it is settled."""
    with _door:
        kept = _kept.setdefault(session, _Kept(Lock()))
    if kept.taken == _taken(session):
        return said_of(shop, record, session), True
    with kept.lock:
        if kept.rough is None or kept.rough_taken != _taken(session):
            kept.rough, kept.rough_taken = answer(session, depth=1, settle=False), _taken(session)
        return kept.rough, False


def _taken(session: Session) -> int:
    """What tells one state of a session from the next."""
    return len(session.acts) * 10_000 + len(session.steps)


def said(session: Session) -> dict[str, Any]:
    """The answer to everything that was taken so far; asked again, it is not reckoned again."""
    with _door:
        kept = _kept.setdefault(session, _Kept(Lock()))
    with kept.lock:
        if kept.answer is None or kept.taken != _taken(session):
            kept.answer, kept.taken = answer(session), _taken(session)
        return kept.answer


def _keep_short(shop: Shop, record: JobRecord, session: Session, known: dict[str, Any]) -> None:
    left = float(known["cost"]["minutes"]["expected"])
    short = {"seq": record.last_seq, "name": known["next"]["name"], "minutes": round(known["next"]["minutes"]),
             "left": round(left), "lights": may_light(session, known["next"])}
    shop.store.put_setting(f"{SHORT_KEY}-{record.job}", short)


def said_in_short(shop: Shop, record: JobRecord) -> Short | None:
    """What was last said of a job, without reckoning; none when something was done since."""
    held = shop.store.get_setting(f"{SHORT_KEY}-{record.job}")
    if not isinstance(held, dict) or held.get("seq") != record.last_seq:
        return None
    return Short(str(held["name"]), int(held["minutes"]), int(held["left"]), bool(held.get("lights")))
