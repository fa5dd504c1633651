"""What a check would read on a healthy machine and on each suspect's, seen through the shop's own instrument."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

import numpy as np
from numpy.typing import NDArray

from firstpull.bench.session import Session
from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check, Reading
from firstpull.reasoning.adviser import Considered
from firstpull.reasoning.explain import outcome_name
from firstpull.reasoning.hearing import deviation
from firstpull.reasoning.options import arrangement_of, check_options
from firstpull.reasoning.table import LiveState, live_states, outcome_table, outcome_words, standing
from firstpull.reasoning.weigh import Column, ask
from firstpull.reasoning.worlds import SHARED, Row

FloatArray = NDArray[np.float64]
SHARES = (0.05, 0.25, 0.5, 0.75, 0.95)
# Five equally likely parts of a standard normal error, by their middles. Source: quantiles 0.1, 0.3, 0.5, 0.7, 0.9.
ERRORS = (-1.2816, -0.5244, 0.0, 0.5244, 1.2816)
MOST_ROWS = 6
MOST_TICKS = 5
LEAST_WORD = 0.005
BARELY_READABLE = 0.02
DECADES_FROM = 300.0
MOST_DECADES = 9


@dataclass(frozen=True, slots=True)
class StripRow:
    """One row: a suspect by number (0 is the healthy machine), where its reading would lie, and chances of words.

    `spread` are the 5, 25, 50, 75 and 95 in 100 of the number that would be read, empty where nothing could be read;
    `unread` is the share in 100 in which it could not be.
    """

    number: int
    name: str
    spread: tuple[float, ...]
    chances: tuple[int, ...]
    unread: int


@dataclass(frozen=True, slots=True)
class Strip:
    """A reading strip: its words with their limits, its axis, its rows, and what was read, once it was.

    `mark` is the number that was read, `read` the word.
    """

    check: str
    title: str
    unit: str
    words: tuple[str, ...]
    limits: tuple[tuple[float, str, str], ...]
    overall: tuple[int, ...]
    axis: tuple[float, float]
    ticks: tuple[float, ...]
    rows: tuple[StripRow, ...]
    log: bool = False
    mark: float | None = None
    read: str = ""


def strip(
    session: Session, check_id: str, numbered: Sequence[tuple[int, str, frozenset[str]]],
    step: Considered | None = None, mark: float | None = None,
) -> Strip | None:
    """The strip of a check as it would be done next; None for what is no check of this class.

    `numbered` are the suspects shown: number, name, faults. `step` is the step as advised, with its arrangement.
    """
    check = session.book.checks.get(check_id)
    if check is None or check.readings[0].several:
        return None
    place = step.place if step is not None and step.place is not None else _place(session, check)
    if place is None:
        return None
    live = live_states(session.belief(), 0.0, 400)
    by_faults = {s.faults: s for s in live}
    chosen = [(0, "Healthy machine", by_faults[frozenset()])]
    chosen += [(n, name, by_faults[f]) for n, name, f in numbered if f in by_faults and f][:MOST_ROWS]
    return _strip(session, check, place, chosen, live, mark)


def _place(session: Session, check: Check) -> Arrangement | None:
    option = next(iter(check_options(session.book, check)), None)
    return arrangement_of(session.book, option, session.state.away) if option is not None else None


def _strip(
    session: Session, check: Check, place: Arrangement, chosen: list[tuple[int, str, LiveState]],
    live: Sequence[LiveState], mark: float | None,
) -> Strip:
    fold = session.belief().walk
    words = outcome_words(session.scales.columns(check.id, place))
    states = [s for _, _, s in chosen]
    table = outcome_table(session.scales, standing(fold, states), check.id, place)
    share = np.array([s.probability for s in live])
    all_live = outcome_table(session.scales, standing(fold, live), check.id, place)
    overall = all_live @ share / max(float(share.sum()), 1e-12)
    shown = [i for i, word in enumerate(words) if word != "not-possible" and max(overall[i], *table[i]) >= LEAST_WORD]
    reading = check.readings[0]
    column = _column(session, check, place, reading)
    spreads = [_spread(session, column, place, s) if column else () for s in states]
    read = [s for s in spreads if s]
    log = column is not None and _wants_decades(read, reading)
    axis = (_decades(read, reading, mark) if log else _axis(read, reading, mark)) if column else (0.0, 1.0)
    rows = tuple(
        StripRow(n, name, spreads[i], tuple(round(float(table[w, i]) * 100) for w in shown),
                 round(float(table[words.index("not-possible"), i]) * 100))
        for i, (n, name, _) in enumerate(chosen)
    )
    return Strip(
        check.id, check.name, reading.unit if column else "",
        tuple(outcome_name(session.book, check.id, words[i]).lower() for i in shown),
        _limits(reading, axis) if column else (), tuple(round(float(overall[i]) * 100) for i in shown), axis,
        _decade_ticks(axis) if log else _ticks(axis), rows, log, mark,
    )


def _column(session: Session, check: Check, place: Arrangement, reading: Reading) -> Column | None:
    """The column of a reading that is a number; words have none."""
    if not reading.number:
        return None
    return next(c for c in session.scales.columns(check.id, place) if c.key == reading.key)


def _spread(session: Session, column: Column, place: Arrangement, state: LiveState) -> tuple[float, ...]:
    """Where the reading would lie in one state, through the instrument; empty when it mostly could not be read."""
    fold, faults = session.belief().walk, session.book.faults
    on = frozenset(f for f in state.faults if place.thermal == "hot" or faults[f].hot_above_c is None)
    row = Row(on, fold.renewals())
    session.scales.worlds.prepare([ask([column], [(row, SHARED)])])
    value = session.scales.value(column, row)
    seen = ~np.isnan(value)
    weight = np.where(seen, state.weight, 0.0)
    if weight.sum() < BARELY_READABLE:
        return ()
    true = np.nan_to_num(value)
    width = deviation(column.ear, true)
    points = np.concatenate([true + z * width for z in ERRORS])
    if column.ear.log:
        relative = np.minimum(width / np.maximum(np.abs(true), 1e-9), 2.0)
        points = np.concatenate([true * np.exp(z * relative) for z in ERRORS])
    order = np.argsort(points, kind="stable")
    total = np.cumsum(np.tile(weight, len(ERRORS))[order])
    places = np.minimum(np.searchsorted(total, np.array(SHARES) * total[-1]), len(points) - 1)
    return tuple(float(points[order][i]) for i in places)


def _limits(reading: Reading, axis: tuple[float, float]) -> tuple[tuple[float, str, str], ...]:
    """Where one word gives way to the next: the limit, the word below it, the word above it."""
    ends = sorted((o.below, o.name) for o in reading.outcomes if o.below is not None)
    starts = {o.start: o.name for o in reading.outcomes if o.start is not None}
    return tuple((x, name, starts[x]) for x, name in ends if x in starts and axis[0] < x < axis[1])


def _axis(spreads: Sequence[tuple[float, ...]], reading: Reading, mark: float | None) -> tuple[float, float]:
    """Both ends of the axis: zero when a reading may come near it, the limits, and nearly all that would be read."""
    limits = [x for o in reading.outcomes for x in (o.start, o.below) if x is not None]
    tops = sorted(s[-1] for s in spreads)
    near = [t for t in tops if t <= 12 * max([*limits, tops[len(tops) // 2], 1e-9])] if tops else []
    high = max([*near, *(1.25 * x for x in limits), *([mark] if mark is not None else []), 1e-9])
    low = min([*(s[0] for s in spreads), *limits, *([mark] if mark is not None else [])], default=0.0)
    low = 0.0 if low > -0.05 * high and low < 0.6 * high else low
    step = _step(high - low)
    return floor(low / step) * step, floor(high / step + 0.999) * step


def _wants_decades(spreads: Sequence[tuple[float, ...]], reading: Reading) -> bool:
    """Whether what may be read spans so much that only a scale of tens shows it."""
    limits = [x for o in reading.outcomes for x in (o.start, o.below) if x]
    middles = [s[2] for s in spreads if s[2] > 0] + limits
    return bool(middles) and max(middles) > DECADES_FROM * min(middles)


def _decades(spreads: Sequence[tuple[float, ...]], reading: Reading, mark: float | None) -> tuple[float, float]:
    """Both ends of a scale of tens."""
    limits = [x for o in reading.outcomes for x in (o.start, o.below) if x]
    shown = [x for s in spreads for x in (s[1], s[3]) if x > 0] + limits + ([mark] if mark and mark > 0 else [])
    low, high = floor(log10(min(shown))), ceil(log10(max(shown)))
    return 10.0 ** max(low, high - MOST_DECADES), 10.0**high


def _decade_ticks(axis: tuple[float, float]) -> tuple[float, ...]:
    low, high = round(log10(axis[0])), round(log10(axis[1]))
    stride = max(1, ceil((high - low) / (MOST_TICKS - 1)))
    return tuple(10.0**i for i in range(low, high + 1, stride))


def _step(span: float) -> float:
    """A round step that gives at most five ticks."""
    rough = max(span, 1e-12) / (MOST_TICKS - 1)
    size = 10.0 ** floor(log10(rough))
    return next((size * f for f in (1, 2, 2.5, 5) if size * f >= rough * 0.999), size * 10)


def _ticks(axis: tuple[float, float]) -> tuple[float, ...]:
    step = _step(axis[1] - axis[0])
    count = int((axis[1] - axis[0]) / step + 0.5)
    return tuple(round(axis[0] + i * step, 9) for i in range(count + 1))
