"""What a locked repair still waits for, and what stands in for a reading that a shop cannot take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from firstpull.bench.case import Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.entries import Repair
from firstpull.reasoning.adviser import Advice, advise
from firstpull.reasoning.beforehand import missing
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.weigh import Scales

KIND = "generator-capacitor-50"
READ = {"residual-volts": "zero"}


@pytest.fixture
def dead(room: WorldRoom) -> Session:
    """A set without brushes that runs and gives nothing, in a shop that has switched on what is locked."""
    worlds = room.worlds(KIND, Conditions())
    session = Session(worlds.book, Scales(worlds), Prices(unlocked=frozenset({locked(worlds.book.repairs).id})))
    session.hear(["no-electricity"], [])
    return session


def locked(repairs: Mapping[str, Repair]) -> Repair:
    return next(r for r in repairs.values() if r.locked and r.instead)


def advice(session: Session) -> Advice:
    return advise(session.belief(False), session.state, session.prices, 1, session.is_done)


def waits(session: Session, prices: Prices) -> list[str] | None:
    found = missing(session.book, prices, tuple(session.acts), locked(session.book.repairs))
    return None if found is None else [o.id for o in found]


def test_what_was_read_is_waited_for_no_longer(dead: Session) -> None:
    before = waits(dead, dead.prices)
    assert before is not None
    assert set(READ) <= set(before)
    for check, reading in READ.items():
        dead.take(Step("check", check, reading=reading))
    after = waits(dead, dead.prices)
    assert after == [c for c in before if c not in READ]


def test_a_renewal_answers_for_a_reading_that_the_shop_has_no_instrument_for(dead: Session) -> None:
    repair = locked(dead.book.repairs)
    check, other = next(iter(repair.instead.items()))
    meter = dead.book.checks[check].instrument
    all_tools = frozenset(dead.book.book.instruments)
    assert check in (waits(dead, replace(dead.prices, owned=all_tools)) or [])
    without = replace(dead.prices, owned=all_tools - {meter})
    assert other in (waits(dead, without) or [])
    assert waits(dead, replace(without, masked=frozenset({other}))) is None
    dead.take(Step("repair", other))
    assert check not in (waits(dead, replace(dead.prices, owned=all_tools)) or [])
    assert other not in (waits(dead, without) or [])


def test_what_it_waits_for_is_proposed_in_its_place_and_says_for_what(dead: Session) -> None:
    repair = locked(dead.book.repairs)
    steps = advice(dead).steps
    assert repair.id not in {s.id for s in steps if s.kind == "repair"}
    for check, reading in READ.items():
        dead.take(Step("check", check, reading=reading))
    other = next(iter(repair.instead.values()))
    assert other in {s.id for s in advice(dead).steps if s.kind == "repair"}
    dead.take(Step("repair", other))
    assert repair.id in {s.id for s in advice(dead).steps if s.kind == "repair"}
