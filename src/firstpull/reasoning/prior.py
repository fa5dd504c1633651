"""How often each state is met before anything is read, and what told facts change."""

from __future__ import annotations

import math
from itertools import combinations

from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import ToldAct
from firstpull.reasoning.worlds import draw_key

Faults = frozenset[str]

PER = 1000.0  # rates are given among this many machines
SECOND_FAULT = 0.3  # a second fault beside the first is met less often than alone would say: judgement
CHAIN = 0.15  # chance that a fault has already brought on what it can bring on: judgement
# Machines with nothing wrong come to a bench less often than the rates alone would leave them; what owners do wrong is
# a fault of its own. About one job in twelve ends with nothing found: judgement.
NOTHING_WRONG = math.log(0.2)
MOST_TOLD = 0.97  # nobody tells a thing more surely than this: judgement


def log_odds(book: ClassBook, faults: Faults) -> float:
    """Logarithm of how often exactly these faults are met, against no fault at all.

    A fault that another of them brings on counts with the chance of being brought on.

    Args:
        book: the handbook of the class [1], scalar.
        faults: the faults present [1], scalar.

    Returns:
        Natural logarithm of odds [1], scalar.

    Valid: faults of the class.
    Source: independent faults; the weight of a second fault and of a chain are judgement.
    """
    total = 0.0
    independent = 0
    for fault in sorted(faults, key=lambda f: book.rates[f]):
        share = min(book.rates[fault] / PER, 0.5)
        brought = any(fault in book.faults[other].brings for other in faults if other != fault)
        if brought:
            share = max(share, CHAIN)
        else:
            independent += 1
        total += math.log(share / (1 - share))
    return total + max(independent - 1, 0) * math.log(SECOND_FAULT)


def first_states(book: ClassBook) -> list[tuple[Faults, float]]:
    """Healthy, every single fault, and every pair that one fault brings on, in an order that no id decides."""
    singles = [frozenset({f}) for f in book.rates]
    chains = {frozenset({f, g}) for f in book.rates for g in book.faults[f].brings if g in book.rates and g != f}
    ordered = [frozenset(), *sorted(singles, key=lambda s: _content(book, s)),
               *sorted(chains, key=lambda s: _content(book, s))]
    return [(faults, log_odds(book, faults) if faults else NOTHING_WRONG) for faults in ordered]


def _content(book: ClassBook, faults: Faults) -> list[str]:
    """What a state does to parameters and how often it is met, as text."""
    return sorted(f"{book.rates[f]:.6f} {sorted(map(repr, map(draw_key, book.faults[f].draws)))}" for f in faults)


def pairs_of(book: ClassBook, suspects: list[str], known: set[Faults]) -> list[tuple[Faults, float]]:
    """Pairs among these suspects that are not open yet."""
    found = [frozenset(pair) for pair in combinations(suspects, 2)]
    return [(pair, log_odds(book, pair)) for pair in found if pair not in known]


def told_factor(book: ClassBook, act: ToldAct, faults: Faults) -> float:
    """Logarithm of how much an answer about history changes the odds of a state.

    The told fact is met on a share of all machines; a fault multiplies that share, never above near-certainty.

    Args:
        book: the handbook of the class [1], scalar.
        act: what was answered [1], scalar.
        faults: the faults of the state [1], scalar.

    Returns:
        Natural logarithm of a likelihood ratio against no fault [1], scalar.

    Valid: any answer; one that is not known changes nothing.
    Source: Bayes; the shares are the handbook's.
    """
    if act.answer == "unknown" or not faults:
        return 0.0
    common = book.told[act.fact].common
    shares = [min(MOST_TOLD, common * book.faults[f].told.get(act.fact, 1.0)) for f in faults]
    share = max(shares, key=lambda s: abs(math.log(s / common)) if s > 0 else 0.0)
    if act.answer == "yes":
        return math.log(max(share, 1e-6) / common)
    return math.log(max(1 - share, 1e-6) / max(1 - common, 1e-6))
