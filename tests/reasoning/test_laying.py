"""What is laid out for the planner: safer checks first, locked repairs only where switched on and proved before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstpull.bench.case import Case, Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.laying import lay_out, telling_checks
from firstpull.reasoning.prices import Prices

KIND = "generator-brush-50"
# No residual voltage, and nothing else to see: what a set without its magnetism reads.
SOUND = {"residual-volts": "zero", "brush-seat-look": "seated", "regulator-look": "no-fault-seen"}


@pytest.fixture
def dead() -> Session:
    """A generator that runs and gives nothing."""
    case = Case(KIND, ("no-electricity",), (), Conditions(), ())
    return Session.of_case(case, open_room().worlds(KIND, Conditions(), 1))


def locked(session: Session) -> set[str]:
    return {r.id for r in session.book.repairs.values() if r.locked}


def offered(session: Session, unlocked: set[str]) -> set[str]:
    prices = replace(session.prices, unlocked=frozenset(unlocked))
    laid = lay_out(session.belief(False), session.state, prices, session.is_done)
    return {o.id for o, waits in zip(laid.repairs, laid.waits, strict=True) if not waits}


def weighed(session: Session, unlocked: set[str]) -> set[str]:
    prices = replace(session.prices, unlocked=frozenset(unlocked))
    return {o.id for o in lay_out(session.belief(False), session.state, prices, session.is_done).repairs}


def considered(session: Session) -> set[str]:
    told = telling_checks(session.belief(False), session.state, session.prices, session.is_done)
    return {t.option.id for t in told}


def read(session: Session, check: str) -> None:
    outcomes = session.book.checks[check].readings[0].outcomes
    session.take(Step("check", check, reading=outcomes[0].id))


def test_a_locked_repair_waits_for_the_shop_and_for_what_must_be_read_before_it(dead: Session) -> None:
    names = locked(dead)
    assert names
    before = [c for name in names for c in dead.book.repairs[name].after if c in dead.book.checks]
    assert not offered(dead, names) & names
    assert set(before) == set(SOUND)
    assert weighed(dead, names) & names == names  # with the minutes of what it waits for
    assert not weighed(dead, set()) & names
    for check in before[:-1]:
        dead.take(Step("check", check, reading=SOUND[check]))
    assert not offered(dead, names) & names
    dead.take(Step("check", before[-1], reading=SOUND[before[-1]]))
    assert offered(dead, names) & names == names
    assert not offered(dead, set()) & names


def test_a_check_loses_to_a_safer_one_until_that_is_read(dead: Session) -> None:
    book = dead.book.checks
    waiting = next(c for c in book.values() if "residual_v" in {r.reads for r in c.readings})
    safer = [s for s in waiting.safer if s in book]
    assert safer
    assert waiting.id not in considered(dead)
    for check in safer:
        read(dead, check)
    assert waiting.id in considered(dead)


def test_a_dear_part_that_did_not_help_twice_is_not_fitted_a_third_time() -> None:
    case = Case("walk-mower-ohv", ("will-not-start",), (), Conditions(), ())
    session = Session.of_case(case, open_room().worlds("walk-mower-ohv", Conditions(), 1))
    session.take(Step("check", "spark-at-tester", reading="dark"))
    dear = replace(session.prices, proof_price=20.0)

    def offers(prices: Prices) -> bool:
        laid = lay_out(session.belief(False), session.state, prices, session.is_done)
        return "renew-coil" in {o.id for o in laid.repairs}

    for _ in range(2):
        assert offers(dear)
        session.take(Step("repair", "renew-coil"))
        session.take(Step("check", "spark-at-tester", reading="dark"))
    assert not offers(dear)
    assert offers(replace(dear, proof_price=1000.0))  # what is cheap may be tried again
