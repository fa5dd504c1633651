"""What each option would give in each state: the planner's table, from the weighted population."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN
from firstpull.reasoning.belief import Faults, Fold
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.hearing import Codes, LightArray, coded, decoded
from firstpull.reasoning.weigh import Column, Scales, ask
from firstpull.reasoning.worlds import SHARED, Ask, Renewals, Row, Touch

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


@dataclass(frozen=True, eq=False)
class Standing:
    """States ready to be asked: which faults act in each, cold and hot, awake and asleep, and the variants' weights."""

    awake: tuple[tuple[Faults, ...], tuple[Faults, ...]]
    asleep: tuple[tuple[Faults, ...], tuple[Faults, ...]]
    duty: FloatArray  # (S,)
    weights: LightArray  # (S, N)
    renewals: Renewals

    @cached_property
    def acting(self) -> tuple[tuple[Faults, ...], tuple[Faults, ...]]:
        """All that may act, awake or asleep, cold and hot."""
        cold, hot = (tuple(dict.fromkeys((*a, *b))) for a, b in zip(self.awake, self.asleep, strict=True))
        return cold, hot

    def sleeping(self, hot: bool) -> list[int]:
        """The states in which less acts while an intermittent fault sleeps."""
        return [i for i, (a, b) in enumerate(zip(self.awake[hot], self.asleep[hot], strict=True)) if a != b]


def standing(fold: Fold, states: Sequence[LiveState]) -> Standing:
    """The states as the handbook says that their faults act, where the job stands."""
    acting = fold.scales.worlds.acting
    cold, hot = (tuple(acting.active(s.faults, heat) for s in states) for heat in (False, True))
    quiet, steady = (tuple(acting.steady(s.faults, heat) for s in states) for heat in (False, True))
    duty = np.array([acting.duty(s.faults) for s in states])
    weights = np.stack([s.weight for s in states]).astype(np.float32)
    return Standing((cold, hot), (quiet, steady), duty, weights, fold.renewals())


def outcome_table(scales: Scales, asked: Standing, check: str, arrangement: Arrangement) -> FloatArray:
    """Chance of each outcome in each state, for one check.

    Args:
        scales: the population [1], scalar.
        asked: the states with their weights, and where the job stands [1], scalar.
        check: the check [1], scalar.
        arrangement: how the machine would stand [1], scalar.

    Returns:
        Chances that sum to one over outcomes [1], shape (O, S).

    Valid: any check of the class.
    Source: population averages of `hearing`.

    """
    return outcome_tables(scales, asked, [(check, arrangement)])[0]


def outcome_tables(
    scales: Scales, asked: Standing, looks: Sequence[tuple[str, Arrangement]]
) -> list[FloatArray]:
    """Chance of each outcome in each state, for several checks; what they lack is predicted together.

    Args:
        scales: the population [1], scalar.
        asked: the states with their weights, and where the job stands [1], scalar.
        looks: checks, and how the machine would stand for each [1], scalar.

    Returns:
        For each, chances that sum to one over outcomes [1], shape (O, S).

    Valid: any check of the class.
    Source: population averages of `hearing`.

    """
    found = [(_look(scales, *look), look[1].thermal == "hot") for look in looks]
    scales.worlds.prepare([a for look, hot in found for a in look.lacking(asked.acting[hot], asked.renewals)])
    sleeping = [asked.sleeping(hot) for hot in (False, True)]
    tables = []
    for look, hot in found:
        shown = look.averages(scales, asked.awake[hot], asked.renewals, asked.weights)
        if some := sleeping[hot]:
            less = [asked.asleep[hot][i] for i in some]
            quiet = look.averages(scales, less, asked.renewals, asked.weights[some])
            shown[:, some] = asked.duty[some] * shown[:, some] + (1 - asked.duty[some]) * quiet
        tables.append(shown)
    return tables


@dataclass(eq=False)
class Look:
    """One check in one arrangement: the chances of its outcomes on each variant, by what acts, remembered."""

    columns: Sequence[Column]
    touch: Touch
    words: int
    _rows: dict[tuple[Faults, Renewals], Row] = field(default_factory=dict)
    _joint: dict[Row, Codes] = field(default_factory=dict)

    def averages(
        self, scales: Scales, faults: Sequence[Faults], renewals: Renewals, weights: LightArray
    ) -> FloatArray:
        """Chance of each outcome in each state.

        Args:
            scales: the population [1], scalar.
            faults: which faults act in each state [1], shape (S,).
            renewals: what was renewed so far [1], scalar.
            weights: weights of the variants of each state [1], shape (S, N).

        Returns:
            Chances that sum to one over outcomes [1], shape (O, S).

        Valid: weights that sum to one.
        Source: weighted means of `hearing`.
        """
        new = [f for f in dict.fromkeys(faults) if (f, renewals) not in self._rows]
        if new:
            self._learn(scales, new, renewals)
        of_row: dict[Row, list[int]] = {}
        for i, acting in enumerate(faults):
            of_row.setdefault(self._rows[acting, renewals], []).append(i)
        result = np.empty((self.words, len(faults)))
        for row, here in of_row.items():
            result[:, here] = (weights[here] @ decoded(self._joint[row])).T
        return np.asarray(result / result.sum(axis=0))  # what is kept is rounded

    def lacking(self, faults: Sequence[Faults], renewals: Renewals) -> list[Ask]:
        """What must be predicted before these states can be averaged."""
        new = [Row(f, renewals) for f in faults if (f, renewals) not in self._rows]
        return [ask(self.columns, [(row, SHARED) for row in new])] if new else []

    def _learn(self, scales: Scales, new: Sequence[Faults], renewals: Renewals) -> None:
        for faults in new:
            self._rows[faults, renewals] = self.touch.row(Row(faults, renewals))
        rows = [row for row in dict.fromkeys(self._rows[f, renewals] for f in new) if row not in self._joint]
        if not rows:
            return
        parts = _parts(self.columns)
        if len(parts) == 1 and parts[0][0].edge is None:
            found = scales.codes(parts[0][0], rows)
        else:
            found = [coded(table) for table in _joint(scales, parts, rows)]
        self._joint.update(zip(rows, found, strict=True))


def _look(scales: Scales, check: str, arrangement: Arrangement) -> Look:
    """The look of a check in an arrangement, one for all arrangements that differ in nothing it depends on."""
    looks: dict[tuple[object, ...], Look] = scales.worlds.looks
    asked = ("asked", check, arrangement)
    if asked in looks:
        return looks[asked]
    touches = [scales.worlds.touch(c.quantity, arrangement) for c in scales.columns(check, arrangement)]
    place = replace(
        arrangement, off=frozenset().union(*(t.place.off for t in touches)),
        added=frozenset().union(*(t.place.added for t in touches)),
    )
    key = (check, place)
    found = looks.get(key)
    if found is None:
        columns = scales.columns(check, place)
        parameters = frozenset().union(*(t.parameters for t in touches))
        touch = Touch(place, parameters, frozenset().union(*(t.acting for t in touches)), scales.worlds.rows)
        found = looks[key] = Look(columns, touch, len(outcome_words(columns)))
    looks[asked] = found
    return found


def _joint(scales: Scales, parts: Sequence[Sequence[Column]], rows: Sequence[Row]) -> list[LightArray]:
    """Chances of the joined outcomes on each variant, shape (N, O) a row."""
    each = [_one(scales, part, rows) for part in parts]
    return [tables[0] if len(tables) == 1 else _joined(tables) for tables in zip(*each, strict=True)]


def _joined(tables: Sequence[LightArray]) -> LightArray:
    words = tables[0][:, :-2]
    mixed, impossible = tables[0][:, -2], tables[0][:, -1]
    for table in tables[1:]:
        given = table[:, :-2] / np.maximum(table[:, :-2].sum(axis=1, keepdims=True), 1e-12)
        words = (words[:, :, None] * given[:, None, :]).reshape(len(mixed), -1)
    return np.concatenate([words, mixed[:, None], impossible[:, None]], axis=1)


def _one(scales: Scales, part: Sequence[Column], rows: Sequence[Row]) -> list[LightArray]:
    """Chances of one reading's words, then "now and then" and "not possible", shape (N, words + 2) a row."""
    if part[0].edge is None:
        return scales.chances(part[0], rows)
    places = [scales.chances(column, rows) for column in part]
    return [_of_several(np.concatenate(seen, axis=1)) for seen in zip(*places, strict=True)]


def _of_several(seen: LightArray) -> LightArray:
    silent = np.prod(1 - seen, axis=1)
    lone = silent[:, None] * seen / np.maximum(1 - seen, 1e-9)
    several = np.maximum(1 - silent - lone.sum(axis=1), 0.0)
    none = np.zeros((len(seen), 2), dtype=seen.dtype)
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
