"""How often states are met, and what told facts change."""

from __future__ import annotations

import math

import pytest

from firstpull.handbook.book import Book
from firstpull.handbook.select import for_class
from firstpull.reasoning.acts import ToldAct
from firstpull.reasoning.prior import CHAIN, SECOND_FAULT, first_states, log_odds, pairs_of, told_factor


def test_a_single_fault_has_the_odds_of_its_rate(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    fault, rate = next(iter(mower.rates.items()))
    share = rate / 1000
    assert log_odds(mower, frozenset({fault})) == pytest.approx(math.log(share / (1 - share)))


def test_two_independent_faults_are_rarer_than_each_and_less_than_alone_would_say(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    pair = ("coil-dead", "air-gap-wide")
    alone = sum(log_odds(mower, frozenset({f})) for f in pair)
    assert log_odds(mower, frozenset(pair)) == pytest.approx(alone + math.log(SECOND_FAULT))


def test_what_a_fault_brings_on_counts_with_the_chance_of_being_brought_on(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    cause = next(f for f in mower.rates if any(g in mower.rates for g in mower.faults[f].brings))
    effect = next(g for g in mower.faults[cause].brings if g in mower.rates)
    both = log_odds(mower, frozenset({cause, effect}))
    if cause not in mower.faults[effect].brings:
        least = log_odds(mower, frozenset({cause})) + math.log(CHAIN / (1 - CHAIN))
        assert both >= least - 1e-9


def test_the_first_states_are_healthy_singles_and_chains(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    states = [faults for faults, _ in first_states(mower)]
    assert states[0] == frozenset()
    assert {next(iter(s)) for s in states if len(s) == 1} == set(mower.rates)
    assert len(set(states)) == len(states)


def test_pairs_are_those_not_open_yet(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    known = {frozenset({"coil-dead", "plug-fouled"})}
    found = pairs_of(mower, ["coil-dead", "plug-fouled", "boot-loose"], known)
    assert {tuple(sorted(f)) for f, _ in found} == {("boot-loose", "coil-dead"), ("boot-loose", "plug-fouled")}


def test_a_yes_raises_what_it_names_a_no_lowers_it_and_not_knowing_leaves_it(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    state = frozenset({"key-stepped"})
    assert told_factor(mower, ToldAct("struck-something", "yes"), state) > 0
    assert told_factor(mower, ToldAct("struck-something", "no"), state) < 0
    assert told_factor(mower, ToldAct("struck-something", "unknown"), state) == 0
    assert told_factor(mower, ToldAct("struck-something", "yes"), frozenset()) == 0
