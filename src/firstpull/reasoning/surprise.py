"""How odd the readings are altogether, and which one is the odd one.

Jobs are simulated from the belief's own states, as they stood when the first reading was taken, with the same checks
and repairs in the same order; the surprise is the share of them whose readings are as improbable as the real ones, or
more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from firstpull.base import draws
from firstpull.reasoning.acts import NOT_POSSIBLE, NOW_AND_THEN, Read, ReadingAct, RepairAct
from firstpull.reasoning.belief import Fold, Thread, fold
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.hearing import Codes, Ear, decoded, deviation, report_chances
from firstpull.reasoning.prior import first_states, pairs_of
from firstpull.reasoning.weigh import Column, Scales, ask
from firstpull.reasoning.worlds import SHARED, Row

FloatArray = NDArray[np.float64]

JOBS = 240
THINNED = 64  # variants a state: half weigh jobs, half are simulated, so that no simulated job meets itself
CUTS = np.array([0.005, 0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98, 0.995])  # of a number before it is read: judgement
FAR = 3.0  # standard deviations of a reading beyond every machine, where the outermost cuts lie: judgement
RARE = 1e-6  # a chance that was kept as none
MOST_RATIO = 50.0  # natural logarithm; beyond it nothing is read


@dataclass(frozen=True, slots=True)
class Surprise:
    """Share of simulated jobs as improbable as this one, and the place (among the acts) of the odd one."""

    p_value: float
    odd_one: int | None


@dataclass(frozen=True, eq=False)
class _Table:
    """Chances of every report of one reading, and which report was given.

    Both arrays are states by variants by reports: while the intermittent faults of a state show, and while they sleep.
    Readings of one `episode` share one coin.
    """

    place: int
    episode: tuple[int, int]
    shows: FloatArray
    sleeps: FloatArray
    said: int

    def split(self, parent: list[int]) -> _Table:
        """The same for the states that a repair has split these into."""
        return replace(self, shows=self.shows[parent], sleeps=self.sleeps[parent])


@dataclass(frozen=True, eq=False)
class _Model:
    """States with their variants weighed by all that was said before, and the readings that followed."""

    weight: FloatArray  # (states, variants), sums to one
    duty: FloatArray  # (states,)
    tables: list[_Table]

    def log_probability(self, reports: Sequence[int], which: Sequence[int]) -> float:
        """Logarithm of the probability of some of the readings' reports, states and variants averaged out."""
        half = self.weight.shape[1] // 2
        parts: dict[tuple[int, int], tuple[FloatArray, FloatArray]] = {}
        for k in which:
            table = self.tables[k]
            shows, sleeps = table.shows[:, :half, reports[k]], table.sleeps[:, :half, reports[k]]
            before = parts.get(table.episode)
            parts[table.episode] = (shows, sleeps) if before is None else (before[0] * shows, before[1] * sleeps)
        joint, duty = self.weight[:, :half], self.duty[:, None]
        for shows, sleeps in parts.values():
            joint = joint * (duty * shows + (1 - duty) * sleeps)
        return float(np.log(max(float(joint.sum()), 1e-300)))


def surprise(belief: Belief) -> Surprise:
    """The surprise of all readings together; 1 when there are none.

    The odd one is the reading that agrees least with the others: leaving it out, and taking it alone, together gain
    most.
    """
    if not any(isinstance(a, ReadingAct) for a in belief.acts):
        return Surprise(1.0, None)
    model = _model(belief)
    tables, every = model.tables, range(len(model.tables))
    said = [t.said for t in tables]
    real = model.log_probability(said, every)
    jobs = _simulate(belief.scales.worlds.seed, model)
    known = {job: model.log_probability(job, every) for job in dict.fromkeys(jobs)}
    imagined = np.array([known[job] for job in jobs])
    p_value = (1 + int((imagined <= real + 1e-12).sum())) / (1 + len(imagined))
    odd = None
    if len(tables) > 1 and p_value < 0.5:
        left_out = [
            model.log_probability(said, [j for j in every if j != k]) + model.log_probability(said, [k]) for k in every
        ]
        odd = tables[int(np.argmax(left_out))].place
    return Surprise(float(p_value), odd)


def _model(belief: Belief) -> _Model:
    """Walks through the acts again: readings become tables, repairs split the states."""
    acts = belief.acts
    start = next(i for i, a in enumerate(acts) if isinstance(a, (ReadingAct, RepairAct)))
    walk = _opening(belief, start)
    tables: list[_Table] = []
    repairs = 0
    for place, act in enumerate(acts[start:], start=start):
        if isinstance(act, ReadingAct):
            tables += _tables(walk, place, act, repairs)
        elif isinstance(act, RepairAct):
            cured = walk.book.repairs[act.repair].ends
            parent = [i for i, t in enumerate(walk.threads) for _ in range(2 if t.current & cured else 1)]
            tables = [t.split(parent) for t in tables]
            walk.act(act)
            repairs += 1
    logs = np.stack([t.log_prior + t.log_weight[:THINNED] for t in walk.threads])
    weight = np.exp(logs - logs.max())
    duty = np.array([_duty(walk, t) for t in walk.threads])
    return _Model(weight / weight.sum(), duty, tables)


def _duty(walk: Fold, thread: Thread) -> float:
    """Share of tries in which the intermittent faults of a state show, before any repair."""
    return walk.scales.worlds.acting.duty(thread.original)


def _opening(belief: Belief, start: int) -> Fold:
    """The belief's states weighed by what was said before the first reading or repair."""
    book = belief.scales.worlds.book
    first = first_states(book)
    opened = list(dict.fromkeys(t.original for t in belief.coarse.threads))
    known = {faults for faults, _ in first}
    names = list(dict.fromkeys(f for faults in opened if faults not in known for f in sorted(faults)))
    odds = dict(pairs_of(book, names, known))
    walk = fold(belief.scales, first, belief.acts[:start])
    more = [(faults, odds[faults]) for faults in opened if faults in odds]
    if more:
        walk.threads += fold(belief.scales, more, belief.acts[:start], watched=False).threads
    return walk


def _tables(walk: Fold, place: int, act: ReadingAct, repairs: int) -> list[_Table]:
    """One table for each thing that the check gave."""
    scales, hot = walk.scales, act.arrangement.thermal == "hot"
    columns = scales.columns(act.check, act.arrangement, act.instrument)
    shows = [Row(walk.active(t, hot), walk.renewals()) for t in walk.threads]
    sleeps = [Row(walk.steady(t, hot), walk.renewals()) for t in walk.threads]
    if act.mood == "fine":
        shows = sleeps
    elif act.mood == "failing":
        sleeps = shows
    rows = list(dict.fromkeys([*shows, *sleeps]))
    scales.worlds.prepare([ask(columns, [(row, SHARED) for row in rows])])
    found = []
    for read in act.reads:
        for column in [c for c in columns if c.key == read.key] or columns[:1]:
            if column.edge is None and read.places is None:
                heard = column.ear if read.number is None else _finer(walk, column, shows)
                reports = dict(zip(rows, _reports(scales, column, rows, heard), strict=True))
                said = _said(heard, read)
            elif column.edge is not None and read.places is not None:
                reports = dict(zip(rows, _named(scales, column, rows), strict=True))
                said = 0 if column.word in read.places else 1
            else:
                continue
            on, off = (np.stack([reports[row] for row in part]) for part in (shows, sleeps))
            found.append(_Table(place, (repairs, act.episode), on, off, said))
    return found


def _finer(walk: Fold, column: Column, shows: Sequence[Row]) -> Ear:
    """The ear with narrower bands for a number, cut where the machines of this belief would be told apart."""
    heard = column.ear
    value = _values(walk.scales, column, shows)
    weight = np.exp([t.log_prior + t.log_weight[:THINNED] for t in walk.threads])
    good = np.isfinite(value) & ((value > 0.0) | (not heard.log))
    cuts = [edge for band in heard.bands for edge in band if np.isfinite(edge)]
    if good.any():
        order = np.argsort(value[good], kind="stable")
        ranked, share = value[good][order], np.cumsum(weight[good][order])
        middle = ranked[np.minimum(np.searchsorted(share, CUTS * share[-1]), len(ranked) - 1)]
        low, high = ranked[0], ranked[-1]
        away = FAR * deviation(heard, np.array([low, high]))
        if heard.log:
            ratio = np.exp(np.minimum(away / np.array([low, high]), MOST_RATIO))
            cuts += [*middle, low / ratio[0], high * ratio[1]]
        else:
            cuts += [*middle, low - away[0], high + away[1]]
    edges = [-np.inf, *np.unique(cuts), np.inf]
    bands = tuple((float(a), float(b)) for a, b in pairwise(edges))
    return replace(heard, bands=bands, words=tuple(map(str, range(len(bands)))))


def _reports(scales: Scales, column: Column, rows: list[Row], heard: Ear) -> list[FloatArray]:
    """Chances of the words and of "now and then" and "not possible" on some variants.

    Who gives a number has looked once: it is no "now and then".
    """
    if heard is column.ear:
        return [_told(codes) for codes in scales.codes(column, rows)]
    touch = scales.spot(column).touch
    alike = [touch.row(row) for row in rows]
    found: dict[Row, FloatArray] = {}
    for row, value in zip(dict.fromkeys(alike), _values(scales, column, list(dict.fromkeys(alike))), strict=True):
        chance = report_chances(heard, value)
        words, never = chance[:, :-2], chance[:, -1:]
        each = words / np.maximum(words.sum(axis=1, keepdims=True), 1e-12) * (1 - never)
        found[row] = np.concatenate([each, np.zeros_like(never), never], axis=1)
    return [found[row] for row in alike]


def _values(scales: Scales, column: Column, rows: Sequence[Row]) -> FloatArray:
    return scales.values(column, [(row, SHARED) for row in rows])[:, :THINNED]


def _told(codes: Codes) -> FloatArray:
    """Chances on some variants; what rounding made impossible is only very rare."""
    return np.maximum(decoded(codes[:THINNED]).astype(np.float64), RARE)


def _named(scales: Scales, column: Column, rows: list[Row]) -> list[FloatArray]:
    """Of several places, whether this one is named."""
    named = [_told(codes) for codes in scales.codes(column, rows)]
    return [np.concatenate([c, 1 - c], axis=1) for c in named]


def _said(heard: Ear, read: Read) -> int:
    if read.number is not None:
        return next((i for i, (a, b) in enumerate(heard.bands) if a <= read.number < b), 0)
    words = [*heard.words, NOW_AND_THEN, NOT_POSSIBLE]
    return words.index(read.word) if read.word in words else 0


def _simulate(seed: int, model: _Model) -> list[tuple[int, ...]]:
    """Reports of simulated jobs: a state, one of its variants, a coin an episode, and what each reading gives then."""
    half = model.weight.shape[1] // 2
    weight = model.weight[:, half:]
    share = np.cumsum(weight.ravel())
    which = np.searchsorted(share, draws.stratified((seed, "surprise state"), JOBS) * share[-1])
    state, variant = np.unravel_index(np.minimum(which, weight.size - 1), weight.shape)
    variant = variant + half
    found = np.zeros((JOBS, len(model.tables)), dtype=np.int64)
    for k, table in enumerate(model.tables):
        awake = draws.uniform((seed, "surprise coin", *table.episode), JOBS) < model.duty[state]
        chance = np.where(awake[:, None], table.shows[state, variant], table.sleeps[state, variant]).cumsum(axis=1)
        coin = draws.uniform((seed, "surprise report", k), JOBS)
        found[:, k] = np.minimum((coin[:, None] * chance[:, -1:] > chance).sum(axis=1), chance.shape[1] - 1)
    return [tuple(int(report) for report in job) for job in found]
