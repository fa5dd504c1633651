"""What is wrong, as far as all acts so far say: states with weights, worked out afresh from the acts.

A thread is a state the machine came in with and what is left of it after the repairs done since; a repair that may
not have taken splits a thread in two. Weights live on the variants of each thread.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import Act, ComplaintAct, ReadingAct, RepairAct, SilenceAct, ToldAct
from firstpull.reasoning.prior import told_factor
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import SHARED, Ask, Block, Renewals, Row

FloatArray = NDArray[np.float64]
Faults = frozenset[str]

# Owners and earlier repairers are given less credit that a repair took: judgement.
OTHERS_TAKE = 0.85
# What the handbook does not know: its share of machines that come in, as log odds (2 in 100): judgement.
OUTSIDE_ODDS = float(np.log(0.02 / 0.98))
# In what share of its readings a fault nobody knows gives anything at all, and else what machines usually give. Known
# faults move what a check gives by 0.06 to 0.07 on average (total variation; mower and blower, all checks): judgement.
ANYTHING = 0.15
FLOOR = 1e-300
MOST_WALKS = 5  # remembered beginnings of a job, those asked for last: its last acts, and what undo goes back to


@dataclass(eq=False)
class Thread:
    """One state as it came in, what is left of it now, and the weights of its variants (natural logarithms)."""

    original: Faults
    current: Faults
    log_prior: float
    log_weight: FloatArray
    block: Block = SHARED
    log_on: FloatArray | None = None
    log_off: FloatArray | None = None

    def copy(self, current: Faults, log_share: float) -> Thread:
        """The same thread after a repair, with its share of the probability."""
        return Thread(self.original, current, self.log_prior + log_share, self.log_weight.copy(), self.block,
                      self.log_on, self.log_off)


@dataclass(frozen=True, slots=True)
class Step:
    """What one act did: the act, and how probable it was given all before (natural logarithm)."""

    act: Act
    log_chance: float


@dataclass(eq=False)
class Fold:
    """Folds acts one after another into threads that share one population.

    Only a `watched` one notes how probable each act was and what a fault that nobody knows would make of it.
    """

    scales: Scales
    threads: list[Thread]
    watched: bool = True
    renewed: dict[str, int] = field(default_factory=dict)
    episode: int | None = None
    repaired: bool = False
    outside: float = -np.inf
    steps: list[Step] = field(default_factory=list)

    @property
    def book(self) -> ClassBook:
        """The handbook of the machine's class."""
        return self.scales.worlds.book

    def copy(self) -> Fold:
        """The same walk, to go on from; arrays are never changed in place and stay shared."""
        return Fold(self.scales, [replace(t) for t in self.threads], self.watched, dict(self.renewed), self.episode,
                    self.repaired, self.outside, list(self.steps))

    def act(self, act: Act) -> None:
        """Take one act into account.

        What the handbook does not know is as likely as the rest to be complained and told about; of readings it
        knows only what machines give on the whole, mixed with anything at all.
        """
        if not self.watched:
            self._take(act)
            return
        before = self.total()
        plain = self._plain_chance(act) if isinstance(act, ReadingAct) else 0.0
        self._take(act)
        after = self.total()
        if isinstance(act, ReadingAct):
            self.outside += plain
        else:
            self.outside += after - before
        self.steps.append(Step(act, after - before))

    def _take(self, act: Act) -> None:
        match act:
            case ReadingAct():
                self._reading(act)
            case ComplaintAct():
                self._complaint(act)
            case RepairAct():
                self._repair(act)
            case SilenceAct():
                self._silence(act)
            case ToldAct():
                for thread in self.threads:
                    thread.log_prior += told_factor(self.book, act, thread.original)

    def foresee(self, acts: Sequence[Act]) -> None:
        """Have all that these acts will ask of the machines predicted together: most of the work is the same."""
        twin = Fold(self.scales, [replace(t) for t in self.threads], False, dict(self.renewed))
        asks: list[Ask] = []
        for act in acts:
            if isinstance(act, RepairAct):
                twin._repair(act)
            else:
                asks += self.scales.asks(act, twin._machines(hot=False), twin._machines(hot=True))
        self.scales.worlds.prepare(asks)

    def _machines(self, hot: bool) -> list[tuple[Row, Block]]:
        """All threads as an intermittent fault shows and as it sleeps."""
        renewed = self.renewals()
        acting = [(f, t.block) for t in self.threads for f in (self.active(t, hot), self.steady(t, hot))]
        return [(Row(faults, renewed), block) for faults, block in dict.fromkeys(acting)]

    def total(self) -> float:
        """Logarithm of the weight of all threads together."""
        return float(np.logaddexp.reduce(self.weights()))

    def weights(self) -> FloatArray:
        """Logarithm of the weight of each thread, shape (threads,)."""
        logs = np.stack([settled(t, self.duty(t)) for t in self.threads])
        top = logs.max(axis=1)
        evidence = top + np.log(np.exp(logs - top[:, None]).mean(axis=1))
        return np.asarray(np.array([t.log_prior for t in self.threads]) + evidence)

    def _plain_chance(self, act: ReadingAct) -> float:
        """Chance of a reading on machines as they come in, blurred with anything at all (natural logarithm)."""
        hot = act.arrangement.thermal == "hot"
        rows = [Row(self.active(t, hot), frozenset()) for t in self.threads]
        chances = [float(c.mean()) for c in self.scales.reading(act, [(row, SHARED) for row in rows])]
        odds = np.exp(np.array([t.log_prior for t in self.threads]) - max(t.log_prior for t in self.threads))
        anything = self.scales.blank_chance(act)
        usual = float(np.dot(odds, chances) / odds.sum())
        return float(np.log((1 - ANYTHING) * usual + ANYTHING * anything))

    def renewals(self) -> Renewals:
        """How often each parameter was renewed so far."""
        return frozenset(self.renewed.items())

    def _reading(self, act: ReadingAct) -> None:
        hot = act.arrangement.thermal == "hot"
        on = [Row(self.active(t, hot), self.renewals()) for t in self.threads]
        off = [Row(self.steady(t, hot), self.renewals()) for t in self.threads]
        self._apply(act, on, off)

    def _apply(self, act: ReadingAct, on: list[Row], off: list[Row]) -> None:
        self._open_episode(act.episode)
        machines = [(row, t.block) for row, t in zip(on, self.threads, strict=True)]
        machines += [(row, t.block) for row, t in zip(off, self.threads, strict=True)]
        logs = _logs(self.scales.reading(act, machines))
        for thread, shows, sleeps in zip(self.threads, logs, logs[len(on):], strict=False):
            self._add(thread, act.mood, shows, sleeps)

    def _add(self, thread: Thread, mood: str, on: FloatArray, off: FloatArray) -> None:
        """Weigh a thread with what was given, in logarithms: while its faults show, and while they sleep."""
        if on is off or mood == "failing":
            thread.log_weight = thread.log_weight + on
        elif mood == "fine":
            thread.log_weight = thread.log_weight + off
        else:
            thread.log_on = on if thread.log_on is None else thread.log_on + on
            thread.log_off = off if thread.log_off is None else thread.log_off + off

    def _open_episode(self, episode: int) -> None:
        if episode != self.episode:
            self._close_episode()
            self.episode = episode

    def _close_episode(self) -> None:
        """One coin for the whole episode: the fault showed in all of it, or in none of it."""
        for thread in self.threads:
            if thread.log_on is None or thread.log_off is None:
                continue
            thread.log_weight = settled(thread, self.duty(thread))
            thread.log_on = thread.log_off = None

    def duty(self, thread: Thread) -> float:
        """Share of tries in which the intermittent faults of a thread show."""
        return self.scales.worlds.acting.duty(thread.current)

    def active(self, thread: Thread, hot: bool) -> Faults:
        """The faults that act while an intermittent one shows."""
        return self.scales.worlds.acting.active(thread.current, hot)

    def steady(self, thread: Thread, hot: bool) -> Faults:
        """The faults that act while an intermittent one sleeps."""
        return self.scales.worlds.acting.steady(thread.current, hot)

    def _complaint(self, act: ComplaintAct) -> None:
        """The customer tells of the machine at its worst; the bench tries it once, when a fault may be asleep."""
        hot = self.book.complaints[act.complaint].thermal == "hot"
        tried = self.repaired or act.episode > 0
        if tried:
            self._open_episode(act.episode)
        on = [(Row(self.active(t, hot), self.renewals()), t.block) for t in self.threads]
        off = [(Row(self.steady(t, hot), self.renewals()), t.block) for t in self.threads] if tried else on
        logs = _logs(self.scales.complaint(act, on + off, tried))
        for thread, shows, sleeps in zip(self.threads, logs, logs[len(on):], strict=False):
            self._add(thread, "unknown", shows, sleeps)

    def _silence(self, act: SilenceAct) -> None:
        cold = [(Row(self.active(t, False), self.renewals()), t.block) for t in self.threads]
        hot = [(Row(self.active(t, True), self.renewals()), t.block) for t in self.threads]
        for thread, quiet in zip(self.threads, _logs(self.scales.silence(act, cold, hot)), strict=True):
            thread.log_weight = thread.log_weight + quiet

    def _repair(self, act: RepairAct) -> None:
        self._close_episode()
        entry = self.book.repairs[act.repair]
        takes = entry.takes * (1.0 if act.by == "shop" else OTHERS_TAKE)
        cured = entry.ends
        after: list[Thread] = []
        for thread in self.threads:
            if thread.current & cured:
                after.append(thread.copy(thread.current - cured, float(np.log(max(takes, FLOOR)))))
                after.append(thread.copy(thread.current, float(np.log(max(1 - takes, FLOOR)))))
            else:
                after.append(thread)
        self.threads = after
        for parameter in entry.renews:
            self.renewed[parameter] = self.renewed.get(parameter, 0) + 1
        self.repaired = self.repaired or act.by == "shop"


def _logs(chances: Sequence[FloatArray]) -> list[FloatArray]:
    """Logarithms of chances, once for machines that share an array; these share the logarithms too."""
    own = {id(chance): chance for chance in chances}
    found = {key: np.log(np.maximum(chance, FLOOR)) for key, chance in own.items()}
    return [found[id(chance)] for chance in chances]


def settled(thread: Thread, duty: float) -> FloatArray:
    """Weights of a thread with its open episode counted in.

    Args:
        thread: the thread [1], scalar.
        duty: share of tries in which it shows [1], scalar.

    Returns:
        Natural logarithms of weights [1], shape (N,).

    Valid: duty in 0..1.
    Source: total probability over one coin an episode.

    """
    if thread.log_on is None or thread.log_off is None:
        return thread.log_weight
    shows = np.log(max(duty, FLOOR)) + thread.log_on
    sleeps = np.log(max(1 - duty, FLOOR)) + thread.log_off
    return np.asarray(thread.log_weight + np.logaddexp(shows, sleeps))


def log_evidence(weights: FloatArray) -> float:
    """Logarithm of the mean weight of the variants.

    Args:
        weights: natural logarithms of weights [1], shape (N,).

    Returns:
        Natural logarithm of their mean [1], scalar.

    Valid: finite weights.
    Source: definition, shifted by the largest for accuracy.

    """
    top = float(weights.max())
    return top + float(np.log(np.mean(np.exp(weights - top))))


def fold(scales: Scales, states: Sequence[tuple[Faults, float]], acts: Iterable[Act],
         blocks: dict[Faults, tuple[Block, FloatArray]] | None = None, watched: bool = True) -> Fold:
    """All acts on these states, from the beginning; beginnings of a watched walk are remembered.

    Args:
        scales: the population and its likelihoods [1], scalar.
        states: faults of each state and the natural logarithm of its prior odds [1], shape (S,).
        acts: everything that happened, in order [1], scalar.
        blocks: own draws and natural logarithms of importance weights of regenerated states [1], shape (N,) each.
        watched: whether to note how probable each act was [1], scalar.

    Returns:
        The threads with their weights [1], shape (N,) each.

    Valid: acts that the class's handbook knows.
    Source: Bayes, one act after another.
    """
    acts = tuple(acts)
    key = tuple(states) if watched and not blocks else None
    walk, done = _furthest(scales, key, acts) if key is not None else (None, 0)
    if walk is None:
        walk = _begin(scales, states, blocks or {}, watched)
    if len(acts) > done:
        walk.foresee(acts[done:])
    for number, act in enumerate(acts[done:], start=done + 1):
        walk.act(act)
        if key is not None:
            _remember(scales, (key, acts[:number]), walk)
    return walk


def fold_each(scales: Scales, states: Sequence[tuple[Faults, float]], acts: Iterable[Act]) -> Fold:
    """As `fold`, unwatched and with shared draws, but each state is taken up where it was folded to before.

    For states that are opened and closed again as a job goes on.

    Args:
        scales: the population and its likelihoods [1], scalar.
        states: faults of each state and the natural logarithm of its prior odds [1], shape (S,), at least one.
        acts: everything that happened, in order [1], scalar.

    Returns:
        The threads with their weights [1], shape (N,) each.

    Valid: acts that the class's handbook knows.
    Source: Bayes, one act after another.
    """
    acts = tuple(acts)
    alike: dict[int, list[Fold]] = {}
    for faults, log_odds in states:
        done, begun = scales.begun.get(faults, ((), None))
        if begun is None or done != acts[: len(done)]:
            done, begun = (), _begin(scales, [(faults, log_odds)], {}, watched=False)
        alike.setdefault(len(done), []).append(begun)
    threads: dict[Faults, list[Thread]] = {}
    for known, parts in alike.items():
        walk = parts[0].copy()
        walk.threads = [replace(t) for part in parts for t in part.threads]
        walk.foresee(acts[known:])
        for act in acts[known:]:
            walk.act(act)
        for thread in walk.threads:
            threads.setdefault(thread.original, []).append(thread)
    for faults, own in threads.items():
        part = walk.copy()
        part.threads = [replace(t) for t in own]
        scales.begun[faults] = (acts, part)
    walk.threads = [t for faults, _ in states for t in threads[faults]]
    return walk


def _remember(scales: Scales, key: tuple[object, ...], walk: Fold) -> None:
    scales.walks[key] = walk.copy()
    while len(scales.walks) > MOST_WALKS:
        del scales.walks[next(iter(scales.walks))]


def _begin(
    scales: Scales, states: Sequence[tuple[Faults, float]], blocks: dict[Faults, tuple[Block, FloatArray]],
    watched: bool,
) -> Fold:
    count = scales.worlds.count
    threads = []
    for faults, log_odds in states:
        block, start = blocks.get(faults, (SHARED, np.zeros(count)))
        threads.append(Thread(faults, faults, log_odds, start.copy(), block))
    walk = Fold(scales, threads, watched)
    if watched:
        walk.outside = walk.total() + OUTSIDE_ODDS
    return walk


def _furthest(
    scales: Scales, key: tuple[object, ...], acts: tuple[Act, ...]
) -> tuple[Fold | None, int]:
    """The longest beginning of these acts that was folded before; the rest is folded on a copy of it."""
    for done in range(len(acts), 0, -1):
        found = scales.walks.pop((key, acts[:done]), None)
        if found is not None:
            scales.walks[key, acts[:done]] = found  # asked for last, forgotten last
            return found.copy(), done
    return None, 0
