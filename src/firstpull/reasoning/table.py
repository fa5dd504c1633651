"""What each option would give in each state: the planner's table, from the weighted population."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN
from firstpull.reasoning.belief import Faults, Fold
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.weigh import Column, Scales
from firstpull.reasoning.worlds import SHARED, Renewals, Row

FloatArray = NDArray[np.float64]

MOST_OUTCOMES = 8
SHARE_OF_PRIOR = 0.02  # keeps a thin state's table from resting on one variant: judgement


@dataclass(frozen=True, eq=False)
class LiveState:
    """A state the machine may be in now, with weights over the shared variants that sum to one."""

    faults: Faults
    probability: float
    weight: FloatArray


def live_states(belief: Belief, least: float, most: int) -> list[LiveState]:
    """The states worth planning for, best first, healthy always among them."""
    shares: dict[Faults, float] = {frozenset(): 0.0}
    weights: dict[Faults, FloatArray] = {}
    count = belief.scales.worlds.count
    for thread, coarse, share in zip(belief.threads, belief.coarse.threads, belief.probability, strict=True):
        shares[thread.current] = shares.get(thread.current, 0.0) + float(share)
        raised = np.exp(coarse.log_weight - coarse.log_weight.max())
        part = float(share) * raised / raised.sum()
        weights[thread.current] = weights.get(thread.current, np.zeros(count)) + part
    kept = sorted(shares, key=lambda f: -shares[f])[:most]
    kept = [f for f in kept if shares[f] >= least or not f]
    if frozenset() not in kept:
        kept.append(frozenset())
    even = np.full(count, 1.0 / count)
    return [LiveState(f, shares[f], _even(weights.get(f), even)) for f in kept]


def _even(weight: FloatArray | None, even: FloatArray) -> FloatArray:
    if weight is None or weight.sum() <= 0.0:
        return even
    return np.asarray((1 - SHARE_OF_PRIOR) * weight / weight.sum() + SHARE_OF_PRIOR * even)


def outcome_words(columns: Sequence[Column]) -> list[str]:
    """The outcomes of a check in the order of `outcome_table`; several readings are joined by a plus sign."""
    words = _words(_parts(columns)[0])
    for part in _parts(columns)[1:]:
        words = [f"{a}+{b}" for a in words for b in _words(part)]
    return [*words, NOW_AND_THEN, NOT_POSSIBLE]


def outcome_table(
    scales: Scales, fold: Fold, check: str, arrangement: Arrangement, states: Sequence[LiveState]
) -> FloatArray:
    """Chance of each outcome in each state.

    Args:
        scales: the population [1], scalar.
        fold: where the job stands (renewals, duties) [1], scalar.
        check: the check [1], scalar.
        arrangement: how the machine would stand [1], scalar.
        states: the states with their weights [1], shape (S,).

    Returns:
        Chances that sum to one over outcomes [1], shape (O, S).

    Valid: any check of the class.
    Source: population averages of `hearing`.

    """
    columns = scales.columns(check, arrangement)
    hot = arrangement.thermal == "hot"
    renewals = fold.renewals()
    faults = fold.book.faults
    on = [frozenset(f for f in s.faults if hot or faults[f].hot_above_c is None) for s in states]
    steady = [frozenset(f for f in found if faults[f].duty >= 1.0) for found in on]
    duty = np.array([np.prod([faults[f].duty for f in s.faults]) for s in states])
    shown = _averages(scales, columns, on, renewals, states)
    if any(a != b for a, b in zip(on, steady, strict=True)):
        asleep = _averages(scales, columns, steady, renewals, states)
        shown = duty * shown + (1 - duty) * asleep
    return shown


def _averages(
    scales: Scales, columns: Sequence[Column], faults: Sequence[Faults], renewals: Renewals, states: Sequence[LiveState]
) -> FloatArray:
    quantities = list(dict.fromkeys(c.quantity for c in columns))
    worlds, question = scales.worlds, columns[0].question
    rows = []
    for state in (Row(f, renewals) for f in faults):
        own = [worlds.row(q, question.arrangement, state) for q in quantities]
        rows.append(Row(frozenset().union(*(r.faults for r in own)), frozenset().union(*(r.renewed for r in own))))
    worlds.prepare(question, quantities, [(row, SHARED) for row in rows])
    result = np.empty((len(outcome_words(columns)), len(states)))
    for row in dict.fromkeys(rows):
        here = [i for i, r in enumerate(rows) if r == row]
        joint = _joint(scales, columns, row)
        result[:, here] = (np.stack([states[i].weight for i in here]) @ joint).T
    return result


def _joint(scales: Scales, columns: Sequence[Column], row: Row) -> FloatArray:
    """Chances of the joined outcomes on each variant, shape (N, O)."""
    parts = _parts(columns)
    tables = [_one(scales, part, row) for part in parts]
    words = tables[0][:, :-2]
    mixed, impossible = tables[0][:, -2], tables[0][:, -1]
    for table in tables[1:]:
        given = table[:, :-2] / np.maximum(table[:, :-2].sum(axis=1, keepdims=True), 1e-12)
        words = (words[:, :, None] * given[:, None, :]).reshape(len(mixed), -1)
    return np.concatenate([words, mixed[:, None], impossible[:, None]], axis=1)


def _one(scales: Scales, part: Sequence[Column], row: Row) -> FloatArray:
    """Chances of one reading's words, then "now and then" and "not possible", shape (N, words + 2)."""
    if part[0].edge is None:
        return scales.chances(part[0], row)
    seen = np.concatenate([scales.chances(column, row) for column in part], axis=1)
    silent = np.prod(1 - seen, axis=1)
    lone = silent[:, None] * seen / np.maximum(1 - seen, 1e-9)
    several = np.maximum(1 - silent - lone.sum(axis=1), 0.0)
    none = np.zeros((len(seen), 2))
    return np.concatenate([silent[:, None], lone, several[:, None], none], axis=1)


def _parts(columns: Sequence[Column]) -> list[list[Column]]:
    """Columns grouped by reading."""
    found: dict[str | None, list[Column]] = {}
    for column in columns:
        found.setdefault(column.key, []).append(column)
    return list(found.values())


def _words(part: Sequence[Column]) -> list[str]:
    if part[0].edge is None:
        return list(part[0].ear.words)
    return ["nowhere", *(c.word for c in part), "several"]


def merged(table: FloatArray, prior: FloatArray) -> FloatArray:
    """The table with its rarest outcomes joined until there are few enough to look ahead over.

    Args:
        table: chances of outcomes [1], shape (O, S).
        prior: probability of each state [1], shape (S,).

    Returns:
        Chances of at most MOST_OUTCOMES outcomes [1], shape (O', S).

    Valid: columns that sum to one.
    Source: judgement; joining outcomes loses information and never adds any.

    """
    if len(table) <= MOST_OUTCOMES:
        return table
    order = np.argsort(-(table @ prior), kind="stable")
    kept = table[order[: MOST_OUTCOMES - 1]]
    return np.concatenate([kept, table[order[MOST_OUTCOMES - 1 :]].sum(axis=0, keepdims=True)])
