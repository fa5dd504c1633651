"""Fresh variants for states that too few of the old ones carry.

In the space of normal scores of the draws behind a state, the weighted variants are matched by a normal
distribution, widened, mixed with the prior, drawn anew and weighted by prior over proposal. Evidence stays unbiased.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from firstpull.base import draws
from firstpull.reasoning.acts import Act, ComplaintAct, ReadingAct
from firstpull.reasoning.belief import Faults, Thread, fold, settled
from firstpull.reasoning.weigh import Scales, bias_key, complaint_column
from firstpull.reasoning.worlds import SHARED, Block, LatentKey, Row

FloatArray = NDArray[np.float64]

LIVE = 0.003  # states less probable than this are left as they are, unless hardly any variant carries them
SELDOM = 0.001  # of LIVE, for states that hang on one variant: what few variants say of them may be far too little
THIN = 0.35  # regenerate when the effective share of variants falls below this
ROUNDS = 4  # fits of the proposal, each to the variants of the one before
ENOUGH = 0.3  # effective share at which no further round is made
FIT_FROM = 0.1  # effective share of variants that a proposal is fitted to; weights are flattened until it is reached
WIDEN = 1.3
KEEP_PRIOR = 0.2
CLEAR = 2.5  # a draw is moved only when its mean is off by this many standard errors
MOST_MOVED = 10


def regenerate(
    scales: Scales,
    acts: Sequence[Act],
    threads: Sequence[Thread],
    probability: FloatArray,
) -> dict[Faults, tuple[Block, FloatArray]]:
    """Own draws for every live state whose variants have worn thin.

    Args:
        scales: the population and its likelihoods [1], scalar.
        acts: everything that happened [1], scalar.
        threads: weighted threads [1], scalar.
        probability: probability of each thread [1], shape (threads,).

    Returns:
        By state, its own block and natural logarithms of importance weights [1], shape (N,).

    Valid: any number of acts; states that are not live are left out.
    Source: Cappe et al., J. Comput. Graph. Stat. 13 (2004) 907-929 (population Monte Carlo); defensive mixture after
        Hesterberg, Technometrics 37 (1995) 185-194; scrambled Sobol points after Owen, Ann. Stat. 25 (1997)
        1541-1562; flattened weights after Koblents, Miguez, Stat. Comput. 25 (2015)
        407-425.

    """
    weights: dict[Faults, FloatArray] = {}
    for thread, share in zip(threads, probability, strict=True):
        if share > LIVE * SELDOM / 10:
            raised = _raised(_with_episode(scales, thread))
            part = share * raised / raised.sum()
            weights[thread.original] = weights.get(thread.original, np.zeros_like(part)) + part
    thin = {
        faults: weight for faults, weight in weights.items()
        if (spread := _effective_share(weight)) < THIN and weight.sum() > LIVE * max(spread / THIN, SELDOM)
    }
    return _fitted(scales, acts, thin) if thin else {}


def _with_episode(scales: Scales, thread: Thread) -> FloatArray:
    """Weights of a thread with its open episode counted in."""
    faults = scales.worlds.book.faults
    return settled(thread, float(np.prod([faults[f].duty for f in thread.current])))


def _raised(log_weight: FloatArray) -> FloatArray:
    return np.asarray(np.exp(log_weight - log_weight.max()))


def _effective_share(weight: FloatArray) -> float:
    return float(weight.sum() ** 2 / np.square(weight).sum() / len(weight))


def _fitted(
    scales: Scales, acts: Sequence[Act], weights: dict[Faults, FloatArray]
) -> dict[Faults, tuple[Block, FloatArray]]:
    """Rounds of fitting, drawing and weighing by all acts, all states side by side; of each state the last one counts.

    To keep the round that most variants carry would be wrong: it is the one that missed a second way of explaining
    the readings.
    """
    keys = {faults: _keys(scales, acts, faults) for faults in weights}
    found: dict[Faults, tuple[Block, FloatArray]] = {}
    left = dict(weights)
    for number in range(ROUNDS):
        for faults, weight in left.items():
            before = found[faults][0] if faults in found else SHARED
            found[faults] = _moved(scales, keys[faults], weight, before, number)
        walk = fold(scales, [(f, 0.0) for f in left], acts, {f: found[f] for f in left})
        logs: dict[Faults, list[FloatArray]] = {}
        for thread in walk.threads:
            logs.setdefault(thread.original, []).append(thread.log_prior + _with_episode(scales, thread))
        fitted = {f: _raised(np.logaddexp.reduce(parts, axis=0)) for f, parts in logs.items()}
        left = {f: weight for f, weight in fitted.items() if _effective_share(weight) < ENOUGH}
        if not left:
            break
    return found


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
            for parameter in worlds.needs(column.quantity, column.question.arrangement):
                wanted.update(worlds.latent_keys(parameter, row))
    return sorted(wanted, key=repr)


def _flattened(weight: FloatArray) -> FloatArray:
    """Weights raised to a power below one where too few variants carry them, so that a fit rests on enough."""
    log_weight = np.log(np.maximum(weight / weight.max(), 1e-300))
    low, high = 0.0, 1.0
    if _effective_share(weight) < FIT_FROM:
        for _ in range(30):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if _effective_share(np.exp(middle * log_weight)) > FIT_FROM else (low, middle)
        weight = np.exp(low * log_weight)
    return np.asarray(weight / weight.sum())


def _moved(
    scales: Scales, keys: list[LatentKey], weight: FloatArray, block: Block, number: int
) -> tuple[Block, FloatArray]:
    """New draws where the weighted ones have clearly moved, and their importance weights."""
    from scipy.special import ndtr, ndtri

    worlds, count = scales.worlds, scales.worlds.count
    weight = _flattened(weight)
    scores = np.clip(ndtri(np.stack([worlds.share(k, block) for k in keys])), -8.0, 8.0)
    mean = scores @ weight
    size = 1.0 / np.square(weight).sum()
    variance = np.square(scores - mean[:, None]) @ weight
    signal = np.maximum(np.abs(mean) * np.sqrt(size), np.abs(variance - 1.0) * np.sqrt(size / 2))
    chosen = [int(i) for i in np.argsort(-signal, kind="stable")[:MOST_MOVED] if signal[i] > CLEAR]
    chosen = sorted(chosen) or [int(np.argmax(signal))]
    part = scores[chosen]
    middle = mean[chosen]
    away = part - middle[:, None]
    shrink = len(chosen) / (len(chosen) + size)
    cover = (1 - shrink) * (away * weight) @ away.T + shrink * np.eye(len(chosen))
    root = np.linalg.cholesky(cover * WIDEN + 1e-6 * np.eye(len(chosen)))
    fresh = ndtri(_points((worlds.seed, number), [keys[i] for i in chosen], count))
    proposed = middle[:, None] + root @ fresh
    from_prior = np.arange(count) % round(1 / KEEP_PRIOR) == 0
    mixed = np.where(from_prior[None, :], fresh, proposed)
    log_weight = _log_ratio(mixed, middle, root)
    mixed = np.clip(mixed, -8.0, 8.0)
    latents: dict[LatentKey, FloatArray] = {keys[i]: np.asarray(ndtr(mixed[j])) for j, i in enumerate(chosen)}
    name = (tuple(keys[i] for i in chosen), middle.tobytes(), root.tobytes())
    return Block(name, latents), log_weight


def _points(stream: tuple[int, int], keys: Sequence[LatentKey], count: int) -> FloatArray:
    """Evenly spread points, one row a draw, scrambled by a number that the draws name.

    Each round has points of its own: a proposal fitted to the very points it moves would be biased.
    """
    from scipy.stats import qmc

    name = int(draws.uniform((*stream, "again", *keys), 1)[0] * 2**52)
    even = qmc.Sobol(len(keys), rng=np.random.default_rng(name)).random(count).T
    return np.asarray(np.clip(even, 1e-9, 1 - 1e-9))


def _log_ratio(scores: FloatArray, middle: FloatArray, root: FloatArray) -> FloatArray:
    """Logarithm of prior density over the mixture's density at each variant."""
    log_prior = -0.5 * np.square(scores).sum(axis=0)
    away = np.linalg.solve(root, scores - middle[:, None])
    log_moved = -0.5 * np.square(away).sum(axis=0) - np.log(np.diag(root)).sum()
    log_mixture = np.logaddexp(np.log(KEEP_PRIOR) + log_prior, np.log(1 - KEEP_PRIOR) + log_moved)
    return np.asarray(log_prior - log_mixture)

