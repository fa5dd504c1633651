"""Which checks tell anything, and the safer ones that they bring with them."""

from __future__ import annotations

from dataclasses import replace

from firstpull.bench.case import Case, Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.laying import lay_out
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import STEP_MINUTES, Telling, owned

KIND = "generator-brush-50"


def job() -> Session:
    case = Case(KIND, ("no-electricity",), (), Conditions(), ())
    return Session.of_case(case, open_room().worlds(KIND, Conditions(), 1))


def tellings(session: Session) -> list[Telling]:
    laid = lay_out(session.belief(False), session.state, session.prices, session.is_done)
    return [*laid.checks, *laid.more]


def test_a_check_that_must_wait_brings_the_safer_one_and_its_minutes() -> None:
    session = job()
    waiting = [t for t in tellings(session) if t.lead is not None]
    assert waiting
    for telling in waiting:
        assert telling.lead is not None
        assert telling.lead.lead is None
        assert telling.before >= telling.lead.option.minutes + STEP_MINUTES
        safer = set(session.book.checks[telling.option.id].safer)
        assert safer
        # the first may itself be what a safer one must wait for
        assert telling.lead.option.id in safer or any(session.book.checks[s].safer for s in safer if s in
                                                      session.book.checks)


def test_once_the_safer_one_is_read_the_check_stands_alone_and_tells_more_for_its_minutes() -> None:
    session = job()
    name, before = next((t.option.id, t) for t in tellings(session) if t.option.id == "residual-volts" and t.lead)
    for safer in session.book.checks[name].safer:
        word = {"outlet-path": "through", "outlet-hertz": "about-50"}[safer]
        session.take(Step("check", safer, reading=word))
    after = next(t for t in tellings(session) if t.option.id == name)
    assert after.lead is None
    assert after.before == 0.0
    assert after.worth > before.worth


def test_no_step_is_advised_before_the_safer_ones() -> None:
    session = job()
    for step in session.advice().steps:
        if step.kind == "check":
            check = session.book.checks[step.id]
            assert not step.towards or step.towards != step.id
            assert not [s for s in check.safer if s in session.book.checks and s in
                        {t.option.id for t in tellings(session)} and step.id == "residual-volts"]


def test_a_list_of_owned_instruments_is_taken_at_its_word() -> None:
    book = job().book
    usual = next(i for i in book.book.instruments.values() if i.usual and not i.bare)
    assert owned(book, Prices(), usual.id)
    assert not owned(book, replace(Prices(), owned=frozenset()), usual.id)
    assert owned(book, replace(Prices(), owned=frozenset({usual.id})), usual.id)
