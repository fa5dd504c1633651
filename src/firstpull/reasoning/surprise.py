"""How odd the readings are altogether, and which one is the odd one.

Jobs are simulated from the belief's own states with the same checks in the same order; the surprise is the share of
them whose readings are as improbable as the real ones, or more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.base import draws
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN, Read, ReadingAct
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.weigh import Column, Scales
from firstpull.reasoning.worlds import SHARED, Row

FloatArray = NDArray[np.float64]

JOBS = 240
THINNED = 32  # variants a state that weigh the simulated jobs


@dataclass(frozen=True, slots=True)
class Surprise:
    """Share of simulated jobs as improbable as this one, and the place (among the acts) of the odd one."""

    p_value: float
    odd_one: int | None


def surprise(belief: Belief) -> Surprise:
    """The surprise of all readings together; 1 when there are none.

    The odd one is the reading that agrees least with the others: leaving it out, and taking it alone, together gain
    most.
    """
    places = [i for i, a in enumerate(belief.acts) if isinstance(a, ReadingAct)]
    if not places:
        return Surprise(1.0, None)
    tables = [_report_table(belief, act) for act in belief.acts if isinstance(act, ReadingAct)]
    prior = _prior(belief)
    simulated = _simulate(belief, tables, prior)
    real = _log_probability(prior, [t.chances[:, :, t.said] for t in tables])
    imagined = np.array([
        _log_probability(prior, [t.chances[:, :, job[k]] for k, t in enumerate(tables)]) for job in simulated
    ])
    p_value = (1 + int((imagined <= real + 1e-12).sum())) / (1 + len(imagined))
    odd = None
    if len(tables) > 1 and p_value < 0.5:
        left_out = [
            _log_probability(prior, [t.chances[:, :, t.said] for j, t in enumerate(tables) if j != k])
            + _log_probability(prior, [table.chances[:, :, table.said]])
            for k, table in enumerate(tables)
        ]
        odd = places[int(np.argmax(left_out))]
    return Surprise(float(p_value), odd)


@dataclass(frozen=True, eq=False)
class _Table:
    """Chances of every report of one reading: states by variants by reports, and which report was given."""

    chances: FloatArray
    said: int


def _prior(belief: Belief) -> FloatArray:
    odds = np.array([t.log_prior for t in belief.coarse.threads])
    raised = np.exp(odds - odds.max())
    return np.asarray(raised / raised.sum())


def _report_table(belief: Belief, act: ReadingAct) -> _Table:
    scales, fold = belief.scales, belief.coarse
    columns = scales.columns(act.check, act.arrangement, act.instrument)
    rows = [Row(t.original) for t in fold.threads]
    scales.worlds.prepare(columns[0].question, [c.quantity for c in columns], [(row, SHARED) for row in rows])
    read = act.reads[0]
    column = next((c for c in columns if c.key == read.key), columns[0])
    stacked = np.stack([_coarse(scales, column, row) for row in rows])
    said = _said(column, read)
    return _Table(stacked, said)


def _coarse(scales: Scales, column: Column, row: Row) -> FloatArray:
    """Reports of a reading on some variants; of several places, whether this one was named."""
    chance = scales.chances(column, [row])[0][:THINNED]
    if column.edge is not None:
        return np.concatenate([chance, 1 - chance], axis=1)
    return chance


def _said(column: Column, read: Read) -> int:
    if column.edge is not None:
        return 0 if column.word in (read.places or ()) else 1
    if read.number is not None:
        return next((i for i, (a, b) in enumerate(column.ear.bands) if a <= read.number < b), 0)
    words = [*column.ear.words, NOW_AND_THEN, NOT_POSSIBLE]
    return words.index(read.word) if read.word in words else 0


def _simulate(belief: Belief, tables: list[_Table], prior: FloatArray) -> NDArray[np.int64]:
    """Reports of simulated jobs, shape (jobs, readings)."""
    seed = belief.scales.worlds.seed
    which = np.searchsorted(np.cumsum(prior), draws.stratified((seed, "surprise state"), JOBS))
    which = np.minimum(which, len(prior) - 1)
    variant = (draws.uniform((seed, "surprise variant"), JOBS) * THINNED).astype(int)
    found = np.zeros((JOBS, len(tables)), dtype=np.int64)
    for k, table in enumerate(tables):
        chance = np.cumsum(table.chances[which, np.minimum(variant, table.chances.shape[1] - 1)], axis=1)
        coin = draws.uniform((seed, "surprise report", k), JOBS)
        found[:, k] = np.minimum((coin[:, None] * chance[:, -1:] > chance).sum(axis=1), chance.shape[1] - 1)
    return found


def _log_probability(prior: FloatArray, chances: list[FloatArray]) -> float:
    """Logarithm of the probability of reports, states and variants averaged out."""
    joint = np.ones_like(chances[0]) if chances else np.ones((len(prior), 1))
    for chance in chances:
        joint = joint * chance
    return float(np.log(max(float(prior @ joint.mean(axis=1)), 1e-300)))

