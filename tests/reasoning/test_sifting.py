"""Which checks tell anything, and the safer ones that they bring with them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.bench.case import Case, Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.adviser import two_way_bits
from firstpull.reasoning.laying import LEAST_LIVE, MOST_LIVE, lay_out
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import MOSTLY_IMPOSSIBLE, OUTSIDE, RUNS_NOT, STEP_MINUTES, Telling, owned
from firstpull.reasoning.table import live_states, outcome_tables, standing

KIND = "generator-brush-50"


JOBS = ((KIND, "no-electricity"), (KIND, "rope-limp"), ("walk-mower-ohv", "shakes"), ("chain-saw", "will-not-start"))


def job(machine: str = KIND, complaint: str = "no-electricity") -> Session:
    case = Case(machine, (complaint,), (), Conditions(), ())
    return Session.of_case(case, open_room().worlds(machine, Conditions(), 1))


def all_safer(session: Session, name: str) -> set[str]:
    """The safer checks of a check, and those that they must wait for in turn."""
    mine = {s for s in session.book.checks[name].safer if s in session.book.checks}
    return mine.union(*(all_safer(session, s) for s in mine))


def refusal(session: Session, name: str) -> float:
    """How likely a check cannot be read, in the arrangement in which that is least likely."""
    belief, book = session.belief(), session.book
    states = live_states(belief, LEAST_LIVE, MOST_LIVE)
    odds = np.array([s.probability for s in states])
    asked = standing(belief.walk, states)
    places = [(name, arrangement_of(book, option)) for option in check_options(book, book.checks[name])]
    return min(float(t[-1] @ odds) / float(odds.sum()) for t in outcome_tables(belief.scales, asked, places))


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
        assert telling.lead.option.id in all_safer(session, telling.option.id)


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


@pytest.mark.parametrize(("machine", "complaint"), JOBS)
def test_nothing_is_advised_while_a_safer_check_that_can_be_read_is_unread(machine: str, complaint: str) -> None:
    session = job(machine, complaint)
    checks = [step for step in session.advice().steps if step.kind == "check"]
    unread = {s for step in checks for s in session.book.checks[step.id].safer
              if s in session.book.checks and owned(session.book, session.prices, session.book.checks[s].instrument)}
    assert not {s for s in unread if refusal(session, s) <= MOSTLY_IMPOSSIBLE}


@pytest.mark.parametrize(("machine", "complaint"), JOBS)
def test_nothing_is_measured_on_a_running_engine_before_it_is_fairly_sure_that_it_runs(
    machine: str, complaint: str
) -> None:
    session = job(machine, complaint)
    running = {t.option.id for t in tellings(session) if session.book.checks[t.option.id].runs}
    running |= {t.lead.option.id for t in tellings(session) if t.lead and session.book.checks[t.lead.option.id].runs}
    assert all(refusal(session, name) <= RUNS_NOT for name in running)


def test_a_job_with_a_doubtful_engine_holds_back_what_must_lose_to_a_running_check() -> None:
    session = job("generator-brush-50", "rope-limp")
    held = {name for name, check in session.book.checks.items() if any(
        s in session.book.checks and session.book.checks[s].runs
        and RUNS_NOT < refusal(session, s) <= MOSTLY_IMPOSSIBLE for s in check.safer)}
    assert held
    assert not held & {t.option.id for t in tellings(session)}


def test_a_list_of_owned_instruments_is_taken_at_its_word() -> None:
    book = job().book
    usual = next(i for i in book.book.instruments.values() if i.usual and not i.bare)
    assert owned(book, Prices(), usual.id)
    assert not owned(book, replace(Prices(), owned=frozenset()), usual.id)
    assert owned(book, replace(Prices(), owned=frozenset({usual.id})), usual.id)


@pytest.mark.parametrize(("machine", "complaint"), JOBS)
def test_no_check_is_chosen_in_the_hope_that_the_handbook_is_at_a_loss(machine: str, complaint: str) -> None:
    """An unknown fault is taken to read like the rest; a check that would tell it and nothing else is left out."""
    said = job(machine, complaint)
    laid = lay_out(said.belief(False), said.state, said.prices, said.is_done)
    share = np.array([s.probability for s in laid.states])
    assert laid.states[-1].faults == OUTSIDE
    assert laid.checks
    for telling in (*laid.checks, *laid.more):
        rest = telling.table[:, :-1] @ (share[:-1] / share[:-1].sum())
        assert telling.table[:, -1] == pytest.approx(rest)
        unknown = np.array([s.faults == OUTSIDE for s in laid.states])
        assert two_way_bits(telling.table, share / share.sum(), unknown) == pytest.approx(0.0, abs=1e-9)
