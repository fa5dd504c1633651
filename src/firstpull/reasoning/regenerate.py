"""Fresh variants for states that too few of the old ones carry.

In the space of normal scores of the draws behind a state, the weighted variants are matched by a normal
distribution, widened, mixed with the prior, drawn anew and weighted by prior over proposal. Each round is fitted to the
variants of all rounds before it, weighed as one sample from the mixture of their proposals, and so is the evidence.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.base import draws
from firstpull.reasoning.acts import Act, ComplaintAct, ReadingAct
from firstpull.reasoning.belief import Faults, Thread, fold, log_evidence, settled
from firstpull.reasoning.weigh import Scales, bias_key, complaint_column
from firstpull.reasoning.worlds import SHARED, Block, LatentKey, Row

FloatArray = NDArray[np.float64]

LIVE = 0.003  # states less probable than this are left as they are, unless hardly any variant carries them
THIN = 0.35  # regenerate when the effective share of variants falls below this
DOUBT = 2.0  # power of the effective share, relative to THIN, by which LIVE falls: few variants say far too little
SELDOM = 1e-5  # of LIVE, below which nothing is regenerated
ROUNDS = 6  # fits of the proposal
ENOUGH = 0.6  # effective number of all rounds together, as a share of one, at which no further round is made
FIT_FROM = 0.1  # effective share of variants that a proposal is fitted to; weights are flattened until it is reached
WIDEN = 1.3
KEEP_PRIOR = 0.1
CLEAR = 2.5  # a draw is moved only when its mean is off by this many standard errors
MOST_MOVED = 10


@dataclass(frozen=True, eq=False)
class _Proposal:
    """Where one round draws from: some draws from a normal distribution (a share of them from the prior)."""

    chosen: tuple[int, ...]
    middle: FloatArray
    root: FloatArray

    def log_ratio(self, scores: FloatArray) -> FloatArray:
        """Logarithm of the proposal's density over the prior's at each variant."""
        part = scores[list(self.chosen)]
        away = np.linalg.solve(self.root, part - self.middle[:, None])
        log_moved = 0.5 * (np.square(part).sum(axis=0) - np.square(away).sum(axis=0)) - np.log(np.diag(self.root)).sum()
        return np.asarray(np.logaddexp(np.log(KEEP_PRIOR), np.log(1 - KEEP_PRIOR) + log_moved))


@dataclass(eq=False)
class _State:
    """All variants of one state so far: normal scores of its draws, and how likely all acts are on each."""

    keys: list[LatentKey]
    odds: float
    scores: list[FloatArray]
    log_chance: list[FloatArray]
    proposals: list[_Proposal | None]
    block: Block = SHARED

    def log_weight(self) -> FloatArray:
        """Weights of all variants as one sample from the mixture of all proposals (natural logarithms)."""
        scores = np.concatenate(self.scores, axis=1)
        ratios = [p.log_ratio(scores) if p is not None else np.zeros(scores.shape[1]) for p in self.proposals]
        mixture = np.logaddexp.reduce(ratios, axis=0) - np.log(len(ratios))
        return np.asarray(np.concatenate(self.log_chance) - mixture)

    def carried(self) -> float:
        """Effective number of all variants, as a share of those of one round."""
        return _effective_share(_raised(self.log_weight())) * len(self.proposals)

    def weighed(self, log_weight: FloatArray) -> None:
        """Take in the weights of the last round's variants."""
        last = self.proposals[-1]
        ratio = 0.0 if last is None else last.log_ratio(self.scores[-1])
        self.log_chance.append(log_weight + ratio)

    def start(self) -> FloatArray:
        """Importance weights of the last round (natural logarithms), put right by the evidence of all rounds."""
        last = self.proposals[-1]
        assert last is not None
        own = -last.log_ratio(self.scores[-1])
        return own + log_evidence(self.log_weight()) - log_evidence(self.log_chance[-1] + own)


def regenerate(
    scales: Scales,
    acts: Sequence[Act],
    threads: Sequence[Thread],
    odds: Mapping[Faults, float],
    between: Callable[[], None],
) -> dict[Faults, tuple[Block, FloatArray]]:
    """Own draws for every live state whose variants have worn thin.

    Args:
        scales: the population and its likelihoods [1], scalar.
        acts: everything that happened [1], scalar.
        threads: weighted threads [1], scalar.
        odds: natural logarithm of the prior odds of each state [1], scalar.
        between: called before each round; what it raises ends the work [1], scalar.

    Returns:
        By state, its own block and natural logarithms of importance weights [1], shape (N,).

    Valid: any number of acts; states that are not live are left out.
    Source: Cornuet, Marin, Mira, Robert, Scand. J. Stat. 39 (2012) 798-812 (adaptive multiple importance sampling);
        defensive mixture after Hesterberg, Technometrics 37 (1995) 185-194; scrambled Sobol points after Owen,
        Ann. Stat. 25 (1997) 1541-1562; flattened weights after Koblents, Miguez, Stat. Comput. 25 (2015) 407-425.

    """
    logs = _by_state(scales, threads)
    evidence = {faults: log_evidence(log) for faults, log in logs.items()}
    left: dict[Faults, _State] = {}
    for faults in _worn(evidence, {f: _effective_share(_raised(log)) for f, log in logs.items()}, THIN):
        keys = _keys(scales, acts, faults)
        left[faults] = _State(keys, odds[faults], [_scores(scales, keys, SHARED)], [logs[faults]], [None])
    found = dict(left)
    for number in range(ROUNDS):
        if not left:
            break
        between()
        for state in left.values():
            _draw(scales, state, number)
        blocks = {f: (s.block, -_last(s).log_ratio(s.scores[-1])) for f, s in left.items()}
        walk = fold(scales, [(f, s.odds) for f, s in left.items()], acts, blocks, watched=False)
        for faults, log in _by_state(scales, walk.threads).items():
            left[faults].weighed(log)
            evidence[faults] = log_evidence(left[faults].log_weight())
        left = {f: left[f] for f in _worn(evidence, {f: s.carried() for f, s in left.items()}, ENOUGH)}
    return {faults: (state.block, state.start()) for faults, state in found.items()}


def _worn(evidence: Mapping[Faults, float], share: Mapping[Faults, float], enough: float) -> list[Faults]:
    """States that too few variants carry, and that may be live for all that is known of them."""
    total = np.logaddexp.reduce(list(evidence.values()))
    return [
        faults for faults, part in share.items()
        if part < enough
        and evidence[faults] - total > np.log(LIVE * max(min(part / THIN, 1.0) ** DOUBT, SELDOM))
    ]


def _by_state(scales: Scales, threads: Sequence[Thread]) -> dict[Faults, FloatArray]:
    """Weights by what was wrong at first, whatever is left of it, open episodes counted in (natural logarithms)."""
    acting = scales.worlds.acting
    found: dict[Faults, FloatArray] = {}
    for thread in threads:
        log = thread.log_prior + settled(thread, acting.duty(thread.current))
        before = found.get(thread.original)
        found[thread.original] = log if before is None else np.logaddexp(before, log)
    return found


def _raised(log_weight: FloatArray) -> FloatArray:
    return np.asarray(np.exp(log_weight - log_weight.max()))


def _effective_share(weight: FloatArray) -> float:
    return float(weight.sum() ** 2 / np.square(weight).sum() / len(weight))


def _last(state: _State) -> _Proposal:
    last = state.proposals[-1]
    assert last is not None
    return last


def _keys(scales: Scales, acts: Sequence[Act], faults: Faults) -> list[LatentKey]:
    """The draws that anything read so far depends on in this state, before any repair, in an order of their own."""
    row = Row(faults)
    worlds = scales.worlds
    wanted: set[LatentKey] = set()
    for act in acts:
        if isinstance(act, ReadingAct):
            asked = scales.columns(act.check, act.arrangement, act.instrument)
        elif isinstance(act, ComplaintAct):
            asked = [complaint_column(worlds.book, worlds.book.complaints[act.complaint])]
        else:
            continue
        for column in asked:
            if column.ear.bias > 0.0:
                wanted.add(bias_key(column.ear))
            for parameter in scales.spot(column).touch.parameters:
                wanted.update(worlds.latent_keys(parameter, row))
    return sorted(wanted, key=repr)


def _scores(scales: Scales, keys: Sequence[LatentKey], block: Block) -> FloatArray:
    from scipy.special import ndtri

    return np.asarray(np.clip(ndtri(np.stack([scales.worlds.share(k, block) for k in keys])), -8.0, 8.0))


def _flattened(log_weight: FloatArray, least: float) -> FloatArray:
    """Weights raised to a power below one where too few variants carry them, so that a fit rests on enough."""
    log_weight = np.maximum(log_weight - log_weight.max(), -690.0)
    weight, least = np.exp(log_weight), least / len(log_weight)
    low, high = 0.0, 1.0
    if _effective_share(weight) < least:
        for _ in range(30):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if _effective_share(np.exp(middle * log_weight)) > least else (low, middle)
        weight = np.exp(low * log_weight)
    return np.asarray(weight / weight.sum())


def _draw(scales: Scales, state: _State, number: int) -> None:
    """A round of new draws where the weighted ones have clearly moved."""
    from scipy.special import ndtr, ndtri

    count = scales.worlds.count
    proposal = _fitted(state, FIT_FROM * count)
    names = [state.keys[i] for i in proposal.chosen]
    even = _points((scales.worlds.seed, number), names, count)
    fresh = ndtri(even[1:])
    moved = proposal.middle[:, None] + proposal.root @ fresh
    mixed = np.clip(np.where(even[0] < KEEP_PRIOR, fresh, moved), -8.0, 8.0)
    latents = {key: np.asarray(ndtr(mixed[j])) for j, key in enumerate(names)}
    state.block = Block(latents)
    state.proposals.append(proposal)
    scores = state.scores[0].copy()
    scores[list(proposal.chosen)] = mixed
    state.scores.append(scores)


def _fitted(state: _State, least: float) -> _Proposal:
    """A proposal matched to all variants so far; a draw that was moved stays moved."""
    scores = np.concatenate(state.scores, axis=1)
    weight = _flattened(state.log_weight(), least)
    mean = scores @ weight
    size = 1.0 / np.square(weight).sum()
    variance = np.square(scores - mean[:, None]) @ weight
    signal = np.maximum(np.abs(mean) * np.sqrt(size), np.abs(variance - 1.0) * np.sqrt(size / 2))
    last = state.proposals[-1]
    if last is not None:
        signal[list(last.chosen)] += CLEAR
    order = np.argsort(-signal, kind="stable")[:MOST_MOVED]
    chosen = sorted(int(i) for i in order if signal[i] > CLEAR) or [int(order[0])]
    middle = mean[chosen]
    away = scores[chosen] - middle[:, None]
    shrink = len(chosen) / (len(chosen) + size)
    cover = (1 - shrink) * (away * weight) @ away.T + shrink * np.diag(variance[chosen])
    root = np.linalg.cholesky(cover * WIDEN + 1e-6 * np.eye(len(chosen)))
    return _Proposal(tuple(chosen), middle, root)


def _points(stream: tuple[int, int], keys: Sequence[LatentKey], count: int) -> FloatArray:
    """Evenly spread points, one row a draw and one before them, scrambled by a number that the draws name.

    Each round has points of its own: a proposal fitted to the very points it moves would be biased.
    """
    from scipy.stats import qmc

    name = int(draws.uniform((*stream, "again", *keys), 1)[0] * 2**52)
    even = qmc.Sobol(len(keys) + 1, rng=np.random.default_rng(name)).random(count).T
    return np.asarray(np.clip(even, 1e-9, 1 - 1e-9))
