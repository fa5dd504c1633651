"""What the handbook must not hold, over every entry and class, by structure: parts, tokens, instruments, deeds."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check
from firstpull.handbook.read import load
from firstpull.handbook.select import ClassBook, for_class
from firstpull.reasoning.options import Option, check_options
from firstpull.safety.interlocks import NEVER_RUN_WITHOUT
from firstpull.safety.moves import plan_moves
from firstpull.safety.state import MachineState, at_rest

COVERS = frozenset({"shroud", "rocker-cover", "muffler", "guard", "belt", "end-cover", "crankcase"})
INTAKE = frozenset({"carburettor", "air-cleaner", "intake", "manifold", "choke", "throttle"})
POWERED = frozenset({"battery-tester", "voltmeter", "mains-meter", "insulation-tester"})
STOP_CIRCUIT = frozenset({"stop_tab_ohm", "stop_tab_released_ohm", "stop_switch_ohm"})
# Said only to forbid it.
SPRAY = re.compile(r"starting (spray|fluid)|\b(propane|butane|torch|unlit gas|brake cleaner|solvent spray)\b", re.I)


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


@pytest.fixture(scope="module")
def classes(book: Book) -> list[ClassBook]:
    return [for_class(book, machine) for machine in book.machines]


def options(classes: list[ClassBook]) -> Iterator[tuple[ClassBook, Check, Option]]:
    for book in classes:
        for check in book.checks.values():
            for option in check_options(book, check):
                yield book, check, option


def as_it_would_stand(book: ClassBook, option: Option) -> MachineState:
    rest = at_rest(book.access)
    moves = plan_moves(rest, option.off, option.on, book.minutes)
    return rest.with_moves([(m.item, m.position) for m in moves])


def test_no_engine_runs_with_a_cover_a_muffler_or_a_guard_off(classes: list[ClassBook]) -> None:
    assert COVERS <= NEVER_RUN_WITHOUT
    found = {
        (check.id, token)
        for book, check, option in options(classes) if option.deed.motion == "run"
        for token in as_it_would_stand(book, option).tokens & COVERS
    }
    assert found == set()


def test_no_hand_is_on_the_intake_of_a_running_engine(book: Book) -> None:
    hands = [c.id for c in book.checks.values() if c.runs and c.instrument in ("hand", "rope-in-hand")
             and c.part in INTAKE]
    assert hands == []


def test_no_governed_throttle_is_opened_by_hand(book: Book, classes: list[ClassBook]) -> None:
    tokens = {t for entry in book.access.values() for t in entry.tokens}
    assert not {t for t in tokens if "throttle" in t}
    assert {"governor-spring"} <= NEVER_RUN_WITHOUT
    for kind, option in ((b, o) for b, _, o in options(classes) if o.deed.motion == "run"):
        assert "governor-spring" not in as_it_would_stand(kind, option).tokens


def test_nothing_is_sprayed(book: Book) -> None:
    tools = [*book.instruments, *(p.name for r in book.repairs.values() for p in r.parts)]
    assert [t for t in tools if "spray" in t.lower() or "gas" in re.split(r"\W", t.lower())] == []
    for shelf in (book.checks, book.repairs):
        for entry in shelf.values():
            for line in (entry.name, *entry.how):
                assert not SPRAY.search(line) or re.search(r"\b(no|never|not)\b", line, re.I), f"{entry.id}: {line}"


def test_no_volts_go_to_the_stop_lead(book: Book) -> None:
    for check in book.checks.values():
        asked = {o.reads or r.reads for r in check.readings for o in r.outcomes}
        if asked & STOP_CIRCUIT:
            assert check.instrument not in POWERED
            assert check.instrument == "ohmmeter"
            assert "plug-lead" in check.needs.off or "stop-lead" in check.needs.off
        if check.part in ("stop-lead", "stop-switch"):
            assert check.instrument not in POWERED


def test_flashing_a_field_is_locked_proved_before_and_unknown_to_inverters(classes: list[ClassBook]) -> None:
    flashes = {r.id for b in classes for r in b.repairs.values() if "residual_magnetism_share" in r.renews
               and not any(p.usual > 0 for p in r.parts)}
    assert flashes
    for book in classes:
        for repair in (book.repairs[f] for f in flashes if f in book.repairs):
            assert book.sizes["generator_kind"] in ("brush", "capacitor")
            assert repair.locked
            before = [book.checks[c] for c in repair.after if c in book.checks]
            asked = {r.reads for c in before for r in c.readings}
            assert "residual_v" in asked
            assert len(before) >= (3 if book.sizes["generator_kind"] == "brush" else 2)


def test_what_is_read_is_known_to_the_engine(book: Book) -> None:
    asked = {o.reads or r.reads for c in book.checks.values() for r in c.readings for o in r.outcomes}
    assert asked <= {*OBSERVABLES, *PARAMETERS}
