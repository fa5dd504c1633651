"""A step as a card: what to do, what to mind first, and how to answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from firstpull.base.quantity import UNITS, unit
from firstpull.bench.own_units import first_unit, said_in
from firstpull.bench.pages.head import Choice
from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.pages.links import file_of
from firstpull.reasoning.explain import outcome_name

QUIET_ANSWERS = (
    Choice("now-and-then", "Now and then"), Choice("not-possible", "Would not let me"),
    Choice("not-done", "Could not do"),
)
# Units that hands use beside the handbook's own, by kind; the first is what the page offers first after its own.
BENCH_UNITS = {
    "length": ("mm", "thou", "in"), "pressure": ("kPa", "psi", "bar"), "resistance": ("ohm", "kohm", "Mohm"),
    "torque": ("N.m", "lbf.in", "lbf.ft"), "temperature": ("C", "F_temp"), "voltage": ("V", "kV"),
    "time": ("s", "min"), "volume": ("mL", "L"), "capacitance": ("uF", "nF"), "force": ("N", "lbf", "kgf"),
}
UNIT_NAMES = {"F_temp": "°F", "C": "°C", "uF": "µF", "ohm": "ohm", "kohm": "kilo-ohm", "Mohm": "mega-ohm"}
MOST_CAUTIONS = 3


@dataclass(frozen=True, slots=True)
class Minded:
    """One caution: the sentence, one plain line more, and whether it can hurt somebody."""

    text: str
    more: str
    danger: bool
    page: str = ""


@dataclass(frozen=True, slots=True)
class StepCard:
    """A step: what to do, what to mind, and how to answer."""

    kind: str
    id: str
    name: str
    minutes: int
    waiting: int
    why: str
    cautions: tuple[Minded, ...]
    more_cautions: tuple[Minded, ...]
    moves: tuple[Choice, ...]
    how: tuple[str, ...]
    answers: tuple[Choice, ...]
    quiet: tuple[Choice, ...]
    units: tuple[Choice, ...]
    places: tuple[Choice, ...]
    places_key: str
    value_key: str
    drive: str
    tool: Choice | None
    unreliable: str
    parts: tuple[str, ...]
    page: str = ""
    blades: tuple[Choice, ...] = ()


def step_card(book: Book, raw: dict[str, Any]) -> StepCard:
    """A step that was advised or considered, as a card."""
    kind, name = raw["kind"], raw["id"]
    answers, quiet = _answers(book, kind, name)
    number, several = _readings(book, kind, name)
    minded = tuple(
        Minded(c["text"], c["more"], c["danger"], _page(book, "caution", c.get("id", "")))
        for c in raw.get("cautions", [])
    )
    check = book.checks.get(name) if kind == "check" else None
    repair = book.repairs.get(name) if kind == "repair" else None
    entry = check or repair
    tool = book.instruments[check.instrument] if check else None
    return StepCard(
        kind=kind, id=name, name=raw["name"], minutes=round(raw.get("minutes", 0)),
        waiting=round(raw.get("waiting", 0)), why=raw.get("why") or raw.get("why_not", ""),
        cautions=minded[:MOST_CAUTIONS], more_cautions=minded[MOST_CAUTIONS:],
        moves=tuple(_move(book, m["item"], m["state"]) for m in raw.get("access", [])),
        how=entry.how if entry else (), answers=answers, quiet=quiet,
        units=_units(number.unit, raw.get("prefer", {})) if number else (),
        places=tuple(Choice(o.id, o.name) for o in several.outcomes) if several else (),
        places_key=(several.key or "") if several else "",
        value_key=(number.key or "") if number else "",
        drive=raw.get("with", {}).get("drive", raw.get("drive", "none")),
        tool=Choice(tool.id, tool.name.lower()) if tool and not tool.bare else None,
        unreliable=check.unreliable if check else "",
        parts=tuple(p.name for p in repair.parts) if repair else (),
        blades=_blades(number.unit, raw) if number else (),
        page=_page(book, "complaint" if name in book.complaints else kind, name),
    )


def _page(book: Book, kind: str, name: str) -> str:
    """The handbook's page of an entry; nothing where it has none."""
    return file_of(kind, name) if kind in SHELVES and name in book.shelf(kind) else ""


def _move(book: Book, item: str, state: str) -> Choice:
    """One access move as it is said: an added thing goes on first, a part of the machine comes off first."""
    return Choice(f"{item}={state}", f"{book.name('access', item)}: {state}")


def _readings(book: Book, kind: str, name: str) -> tuple[Any, Any]:
    """The reading that takes a number, and the one that takes places, of a check."""
    if kind != "check" or name not in book.checks:
        return None, None
    readings = book.checks[name].readings
    return next((r for r in readings if r.number), None), next((r for r in readings if r.several), None)


def _answers(book: Book, kind: str, name: str) -> tuple[tuple[Choice, ...], tuple[Choice, ...]]:
    """What can be tapped: the outcomes, and the quiet ones beside them."""
    if kind != "check":
        return (), ()
    if name not in book.checks:
        return (Choice("still", "Still so"), Choice("gone", "Gone")), QUIET_ANSWERS[2:]
    reading = book.checks[name].readings[0]
    if reading.several:
        return (), QUIET_ANSWERS
    return tuple(Choice(o.id, outcome_name(book, name, o.id)) for o in reading.outcomes), QUIET_ANSWERS


def _units(own: str, prefer: Mapping[str, str]) -> tuple[Choice, ...]:
    """The unit of a reading and those of the same kind that hands use, the shop's own first."""
    if own not in UNITS:
        return (Choice(own, own),)
    names = dict.fromkeys([first_unit(prefer, own), own, *BENCH_UNITS.get(unit(own).kind, ())])
    return tuple(Choice(n, UNIT_NAMES.get(n, n)) for n in names)[:3]


def _blades(own: str, raw: Mapping[str, Any]) -> tuple[Choice, ...]:
    """The shop's feeler blades as keys, in the shop's own unit, where a length is read."""
    if own not in UNITS or unit(own).kind != "length":
        return ()
    shown = first_unit(raw.get("prefer", {}), own)
    return tuple(Choice(f"{blade:g} mm", said_in(blade, "mm", shown)) for blade in raw.get("blades", ()))
