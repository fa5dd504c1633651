"""Which checks tell anything as things stand, and which safer ones must be read before them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.accessbits import AccessBits
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.information import GroupBits
from firstpull.reasoning.options import Option, arrangement_of, check_options
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.table import LiveState, outcome_tables, outcome_words, standing

FloatArray = NDArray[np.float64]
Done = Callable[[Check, Arrangement], bool]

OUTSIDE = frozenset({""})  # the state that the handbook does not know; no id is empty
LEAST_BITS = 1e-4
MOSTLY_IMPOSSIBLE = 0.5  # nobody tries what most likely cannot be read
# Nor is anything measured on a running engine before it is fairly sure that it runs; there are starts to see that by.
RUNS_NOT = 0.2
# Turning to another step, minding its cautions and logging it: judgement. Without it every glance would be worth it.
STEP_MINUTES = 1.0


@dataclass(frozen=True, eq=False)
class Telling:
    """A check option with what it would show.

    A check that must wait for safer ones has the first of those as its `lead`, and the minutes of them all `before` it.
    """

    option: Option
    table: FloatArray
    words: tuple[str, ...]
    place: Arrangement
    worth: float
    lead: Telling | None = None
    before: float = 0.0


def sifted(
    belief: Belief,
    access: AccessBits,
    prices: Prices,
    states: Sequence[LiveState],
    done: Done,
    groups: NDArray[np.int64],
) -> list[Telling]:
    """Check options worth looking ahead over, the most telling for their minutes first.

    One that must wait for safer checks stands here with their minutes, even where they tell nothing themselves. A safer
    one that most likely cannot be read as the machine is keeps nothing waiting; one that may be read, but not before it
    is surer that the engine runs, keeps waiting whatever must lose to it.

    Args:
        belief: what is believed [1], scalar.
        access: how the machine stands [1], scalar.
        prices: the shop's prices and instruments [1], scalar.
        states: live states, the one outside the handbook last [1], shape (S,).
        done: whether a check was read in an arrangement since the last repair [1], scalar.
        groups: which states call for the same repairs [1], shape (S,).

    Returns:
        Options with the table of what they would show [1], shape (O, S) each.

    Valid: states of the belief's class.
    Source: information for its price, after Raghavan, Shakeri, Pattipati, IEEE SMC-A 29 (1999) 153-163.
    """
    book = belief.walk.book
    share = np.array([s.probability for s in states])
    share /= share.sum()
    asked = standing(belief.walk, [s for s in states if s.faults != OUTSIDE])
    away = access.state.away
    first = {c.id: _safer_first(book, prices, c, done, away) for c in book.checks.values() if _doable(book, prices, c)}
    asked_for = [
        (option, place)
        for name in first
        for option in check_options(book, book.checks[name])
        if not done(book.checks[name], place := arrangement_of(book, option, away - option.off - option.on))
    ]
    tables = outcome_tables(belief.scales, asked, [(option.id, place) for option, place in asked_for])
    tables = [np.concatenate([table, _like_the_rest(table, share[:-1])], axis=1) for table in tables]
    bits = GroupBits(share, groups).each(tables)
    readable: list[tuple[Telling, float, bool]] = []
    for (option, place), table, told in zip(asked_for, tables, bits, strict=True):
        refused = float(table[-1] @ share)
        if refused <= MOSTLY_IMPOSSIBLE:
            words = tuple(outcome_words(belief.scales.columns(option.id, place)))
            telling = Telling(option, table, words, place, float(told) / _minutes(access, option))
            readable.append((telling, float(told), refused <= RUNS_NOT or not book.checks[option.id].runs))
    quickest: dict[str, tuple[Telling, bool]] = {}
    for telling, _, now in sorted(readable, key=lambda one: (one[2], -_minutes(access, one[0].option))):
        quickest[telling.option.id] = (telling, now)
    found: list[Telling] = []
    for telling, told, now in readable:
        leads = [quickest[name] for name in first[telling.option.id] if name in quickest]
        if told > LEAST_BITS and now and all(ready for _, ready in leads):
            before = sum(_minutes(access, lead.option) for lead, _ in leads)
            own = _minutes(access, telling.option)
            lead = leads[0][0] if leads else None
            found.append(replace(telling, lead=lead, before=before, worth=telling.worth * own / (own + before)))
    return sorted(found, key=lambda t: -t.worth)


def _minutes(access: AccessBits, option: Option) -> float:
    return option.minutes + access.minutes(option) + STEP_MINUTES


def _like_the_rest(table: FloatArray, share: FloatArray) -> FloatArray:
    """What a machine with a fault that nobody knows is taken to show when a check is chosen, (O, 1).

    It may show anything, and the belief allows for that; but nobody looks at a rope guide in the hope that the
    handbook is at a loss. That comes out when repairs fail.
    """
    return np.asarray(table @ share / max(float(share.sum()), 1e-12))[:, None]


def _safer_first(
    book: ClassBook, prices: Prices, check: Check, done: Done, away: frozenset[str]
) -> tuple[str, ...]:
    """The safer checks that a check must wait for, in their order: those that the shop can do and has not read yet."""

    def read(safer: Check) -> bool:
        options = check_options(book, safer)
        return any(done(safer, arrangement_of(book, o, away - o.off - o.on)) for o in options)

    wanted: dict[str, None] = {}
    for name in check.safer:
        safer = book.checks.get(name)
        if safer is not None and _doable(book, prices, safer) and not read(safer):
            wanted.update(dict.fromkeys([*_safer_first(book, prices, safer, done, away), name]))
    return tuple(wanted)


def _doable(book: ClassBook, prices: Prices, check: Check) -> bool:
    """Whether the shop can and may do a check; until it is read it also shuts out those that must lose to it."""
    return check.id not in prices.masked and owned(book, prices, check.instrument)


def owned(book: ClassBook, prices: Prices, instrument: str) -> bool:
    """Whether the shop has an instrument, by its own list or because nearly all have it.

    Args:
        book: the handbook of the class [1], scalar.
        prices: the shop's list of what it owns [1], scalar.
        instrument: id of the instrument [1], scalar.

    Returns:
        Whether it is at hand [1], scalar.

    Valid: instruments of the handbook.
    Source: definition.
    """
    tool = book.book.instruments[instrument]
    return tool.usual if prices.owned is None else instrument in prices.owned or tool.bare
