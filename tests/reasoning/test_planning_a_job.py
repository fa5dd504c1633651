"""From belief to advice on a real handbook: tables, problem, steps, reasons."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.adviser import Considered, put_back
from firstpull.reasoning.explain import odds_words, outcome_points, why, why_not
from firstpull.reasoning.information import group_bits, mutual_bits
from firstpull.reasoning.laying import lay_out
from firstpull.reasoning.sifting import OUTSIDE
from firstpull.reasoning.table import MOST_OUTCOMES, live_states, merged, outcome_table, outcome_words, standing
from tests.acceptance.played import HELD, at_tester, session


@pytest.fixture(scope="module")
def dark(room: WorldRoom) -> Session:
    """A mower that was dark at the tester with the control held."""
    return session(room, [HELD, at_tester("dark", "rope")])


def test_live_states_carry_weights_that_sum_to_one(dark: Session) -> None:
    states = live_states(dark.belief(), 2e-3, 20)
    assert frozenset() in {s.faults for s in states}
    assert all(abs(s.weight.sum() - 1) < 1e-9 for s in states)


def test_outcome_tables_sum_to_one_over_outcomes(dark: Session) -> None:
    belief = dark.belief()
    states = live_states(belief, 2e-3, 20)
    laid = lay_out(belief, dark.state, dark.prices)
    for option, place, words in ((t.option, t.place, t.words) for t in laid.checks):
        table = outcome_table(belief.scales, standing(belief.walk, states), option.id, place)
        assert np.allclose(table.sum(axis=0), 1.0, atol=1e-6)
        assert words == tuple(outcome_words(belief.scales.columns(option.id, place)))


def test_joining_outcomes_keeps_them_few_and_adds_no_information() -> None:
    table = np.random.default_rng(3).dirichlet(np.ones(15), size=4).T
    share = np.array([0.4, 0.3, 0.2, 0.1])
    joined = merged(table, share)
    assert len(joined) == MOST_OUTCOMES
    assert np.allclose(joined.sum(axis=0), 1.0)
    assert mutual_bits(joined, share) <= mutual_bits(table, share) + 1e-12


def test_a_perfect_check_of_even_odds_tells_one_bit() -> None:
    table = np.array([[1.0, 0.0], [0.0, 1.0]])
    assert mutual_bits(table, np.array([0.5, 0.5])) == pytest.approx(1.0)
    assert group_bits(table, np.array([0.5, 0.5]), np.array([0, 0])) == pytest.approx(0.0, abs=1e-12)


def test_the_problem_holds_what_the_handbook_does_not_know(dark: Session) -> None:
    laid = lay_out(dark.belief(), dark.state, dark.prices)
    assert laid.states[-1].faults == OUTSIDE
    assert laid.problem.prior.sum() == pytest.approx(1.0)


def test_advice_is_the_same_for_the_same_job_and_never_above_its_own_estimate(room: WorldRoom, dark: Session) -> None:
    one = dark.advice()
    two = session(room, [HELD, at_tester("dark", "rope")]).advice()
    assert [s.id for s in one.steps] == [s.id for s in two.steps]
    assert 0 < one.lower_bound <= one.expected + 1e-9


def test_masked_checks_and_missing_tools_are_not_proposed(room: WorldRoom) -> None:
    job = session(room, [HELD])
    first = job.advice().next.id
    masked = session(room, [HELD, {"check": first, "reading": "not-done"}])
    assert first not in {s.id for s in masked.advice().steps}


def test_a_dear_part_is_not_proposed_before_it_is_proved(dark: Session) -> None:
    advice = dark.advice()
    dear = [s for s in advice.steps if s.kind == "repair"
            and sum(p.usual for p in dark.book.repairs[s.id].parts) > dark.prices.proof_price]
    assert all(dark.belief().repair_probability[s.id] >= dark.prices.proof_share for s in dear)


def test_putting_back_leaves_nothing_away(dark: Session) -> None:
    state = dark.state
    for move in put_back(dark.book, state):
        state = state.moved(move.item, move.position)
    assert state.away == frozenset()


def test_reasons_name_outcomes_and_suspects_without_decimals(dark: Session) -> None:
    advice = dark.advice()
    text = why(dark.belief(), advice, advice.next)
    assert text
    assert "." not in text.replace(". ", " ").rstrip(".").replace("...", "")
    assert outcome_points(dark.book, advice, advice.next)
    assert all(why_not(dark.belief(), advice, s) for s in advice.steps[1:4])


def test_the_habit_of_reaching_for_a_part_is_answered(dark: Session) -> None:
    advice, belief = dark.advice(), dark.belief()
    tempting = [r for r in dark.book.repairs.values() if r.habit]
    assert tempting
    for repair in tempting:
        step = Considered("repair", repair.id, advice.expected + 10)
        assert why_not(belief, advice, step) == f"{repair.habit} On average 10 minutes more to the end."


@pytest.mark.parametrize(
    ("probability", "words"),
    [(0.999, "nearly certain"), (0.9, "about 9 in 10"), (0.5, "about 5 in 10"), (0.04, "about 1 in 20"),
     (0.001, "hardly likely")],
)
def test_odds_are_said_as_hands_say_them(probability: float, words: str) -> None:
    assert odds_words(probability) == words
