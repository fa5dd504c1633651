"""What stands open on one machine and can hurt at another in the same room: fuel, while something sparks or runs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from threading import Lock
from typing import Any
from weakref import WeakKeyDictionary

from firstpull.bench.answer import WOULD_NOT_FAIL
from firstpull.bench.own_units import blades, own_units
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.reasoning.adviser import RELEASE
from firstpull.reasoning.options import deed_of, repair_option
from firstpull.safety.interlocks import FUEL_OPEN, Deed
from firstpull.safety.state import MachineState
from firstpull.workshop.fold import JobRecord

# What lets fuel or its vapour into the room while it is off, open or drained. Common practice, no source.
OPENS_FUEL = FUEL_OPEN | {"fuel", "fuel-cap"}
# What lights vapour even on an engine that stands still.
LIGHTS = frozenset({"spark", "heat", "running"})


@dataclass(frozen=True, slots=True)
class OpenFuel:
    """A machine with fuel open: its job, what is read on its tag, and what is off, open or drained."""

    job: str
    number: str
    machine: str
    what: tuple[str, ...]

    @property
    def words(self) -> str:
        """The warning, as the other jobs of the room read it."""
        return f"Fuel is open on job {self.number}, {self.machine}: {', '.join(self.what).lower()}."


# By workshop and job: the version that was looked at, and what is open on it.
_seen: WeakKeyDictionary[Shop, dict[str, tuple[int, OpenFuel | None]]] = WeakKeyDictionary()
_door = Lock()
CLOSE_FIRST = "Close it or carry it outdoors, and air the room, before anything here sparks or runs."


def fuel_open(shop: Shop) -> tuple[OpenFuel, ...]:
    """Every machine of the workshop on which fuel is open now; what did not change is not looked at again."""
    with _door:
        kept = _seen.setdefault(shop, {})
    found: list[OpenFuel] = []
    for line in shop.store.jobs(open_only=True):
        held = kept.get(line.job)
        if held is None or held[0] != line.last_seq:
            record = shop.record(line.job)
            held = kept[line.job] = (record.last_seq, _open_on(shop, record))
        if held[1] is not None:
            found.append(held[1])
    return tuple(found)


def _open_on(shop: Shop, record: JobRecord) -> OpenFuel | None:
    live = shop.live(record)
    if live is None:
        return None
    state, book = live.session.state, shop.room.book
    items = [i for i in sorted(state.away) if not state.items[i].added and OPENS_FUEL & set(state.items[i].tokens)]
    if not items:
        return None
    names = tuple(book.name("access", i) for i in items)
    return OpenFuel(record.job, record.number or record.job, book.name("machine", record.machine_class), names)


def fuel_beside(shop: Shop, job: str) -> tuple[OpenFuel, ...]:
    """Every other machine of the room on which fuel is open."""
    return tuple(one for one in fuel_open(shop) if one.job != job)


def may_light(session: Session, step: Mapping[str, Any]) -> bool:
    """Whether a step sparks, glows or runs the engine, or may: `step` is one of those an answer holds."""
    deed = _deed(session, step)
    if deed.motion == "run" or deed.sparks or deed.hazard in LIGHTS:
        return True
    moves = [(m["item"], m["state"]) for m in step.get("access", ())]
    return deed.motion == "spin" and not _lead_is_earthed(session.state.with_moves(moves))


def _lead_is_earthed(state: MachineState) -> bool:
    return "plug-lead" in state.tokens and not state.tokens & {"tester-on-lead", "in-line-tester"}


def _deed(session: Session, step: Mapping[str, Any]) -> Deed:
    book, kind, name = session.book, step["kind"], step["id"]
    if kind == "check" and name in book.checks:
        return deed_of(book.checks[name], (step.get("with") or {}).get("drive") or step.get("drive") or "none")
    if kind == "repair" and name in book.repairs:
        option = repair_option(book, book.repairs[name])
        return option.deed if option is not None else Deed()
    return Deed("run") if (kind == "check" or name in (RELEASE, WOULD_NOT_FAIL)) else Deed()


def with_room(shop: Shop, job: str, session: Session, step: Mapping[str, Any]) -> dict[str, Any]:
    """A step of an answer as it is done in this room: what other machines ask to be minded, units, blades."""
    step = {**step, "prefer": own_units(shop), "blades": blades(shop)}
    beside = fuel_beside(shop, job) if may_light(session, step) else ()
    if not beside:
        return step
    said = [{"id": "", "text": one.words, "more": CLOSE_FIRST, "danger": True} for one in beside]
    return {**step, "cautions": [*said, *step.get("cautions", ())]}
