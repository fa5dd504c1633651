"""Everything one step can lead to from several beliefs at once, with a bound on each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.model import IMPOSSIBLE, Model
from firstpull.reasoning.planner.problem import Floats, Ints

SAME = 2e-9  # beliefs closer than this are one belief: such a step tells and changes nothing


@dataclass(frozen=True, eq=False)
class Children:
    """M beliefs after one step, sorted by the belief they come from and the action."""

    slot: Ints  # (M,) owner * actions + action
    chance: Floats  # (M,)
    beliefs: Floats  # (M, S)
    access: Ints  # (M,)
    low: Floats  # (M,) lower bound of the cost from there
    cost: Floats  # (N, actions) price of the step itself; infinite where it cannot or need not be done


def unused_checks(model: Model, used: list[int]) -> Floats:
    """Which checks may still be done.

    Args:
        model: the problem made ready [1], scalar.
        used: bits of the once-only checks already done [1], shape (N,).

    Returns:
        One where a check may still be done, else zero [1], shape (N, C).

    Raises:
        Nothing.

    Valid:
        any bits.

    Source:
        judgement.
    """
    return np.array([[0.0 if u & bit else 1.0 for bit in model.once_bits] for u in used]).reshape(len(used), -1)


def children_of(model: Model, bound: InformationBound, beliefs: Floats, access: list[int], used: list[int]) -> Children:
    """Find every belief that one useful step can lead to, and bound the cost from each.

    Args:
        model: the problem made ready [1], scalar.
        bound: the information bound of the same model [1], scalar.
        beliefs: where the steps start [1], shape (N, S).
        access: access state of each belief [1], shape (N,).
        used: bits of the once-only checks done before each belief [1], shape (N,).

    Returns:
        The beliefs after each outcome; steps that neither tell nor change anything are left out [1], scalar.

    Raises:
        Nothing.

    Valid:
        beliefs that sum to one.

    Source:
        judgement.
    """
    p, count = model.problem, model.count
    heres = [model.at(a) for a in access]
    unused = unused_checks(model, used)
    cost = np.where([h.allowed for h in heres], [h.cost for h in heres], np.inf)
    cost[:, : model.checks][unused == 0.0] = np.inf
    cost[:, model.proof + 1 :] += beliefs @ p.end_cost.T
    passed = beliefs @ p.proof_pass
    cost[:, model.proof] += beliefs @ model.false_pass
    cost[passed <= IMPOSSIBLE, model.proof] = np.inf
    parts: list[tuple[NDArray[np.int64], Floats, Floats]] = []
    if model.checks:
        parts.append(_after_checks(model, beliefs, cost))
    if model.repairs:
        parts.append(_after_repairs(model, beliefs, cost))
    failed = beliefs * (1.0 - p.proof_pass)
    chance = failed.sum(axis=1)
    rows = np.flatnonzero((chance > IMPOSSIBLE) & np.isfinite(cost[:, model.proof]))
    parts.append((rows * count + model.proof, chance[rows], failed[rows] / chance[rows, None]))
    slot = np.concatenate([part[0] for part in parts])
    order = np.argsort(slot, kind="stable")
    slot = slot[order]
    chance = np.concatenate([part[1] for part in parts])[order]
    after = np.concatenate([part[2] for part in parts])[order]
    owner, action = slot // count, slot % count
    there = np.array([h.after for h in heres])[owner, action]
    places, which = np.unique(there, return_inverse=True)
    left = unused[owner]
    checked = np.flatnonzero(action < model.checks)
    once = checked[p.check_once[action[checked]]] if len(checked) else checked
    left[once, action[once]] = 0.0
    low, _ = bound.low(after, [model.at(int(a)) for a in places], which, left)
    return Children(slot, chance, after, there, low, cost)


def _after_checks(model: Model, beliefs: Floats, cost: Floats) -> tuple[NDArray[np.int64], Floats, Floats]:
    joint = model.after_checks(beliefs)
    chance = joint.sum(axis=3)
    after = joint / np.maximum(chance, IMPOSSIBLE)[..., None]
    likely = chance > IMPOSSIBLE
    apart = np.abs(after - beliefs[:, None, None, :]).max(axis=3)
    tells = (np.where(likely, apart, 0.0) > SAME).any(axis=2)
    cost[:, : model.checks][~tells] = np.inf
    keep = likely & np.isfinite(cost[:, : model.checks])[:, :, None]
    n, c, o = np.nonzero(keep)
    return n * model.count + c, chance[n, c, o], after[n, c, o]


def _after_repairs(model: Model, beliefs: Floats, cost: Floats) -> tuple[NDArray[np.int64], Floats, Floats]:
    after = model.after_repairs(beliefs)
    moves = np.abs(after - beliefs[:, None, :]).max(axis=2) > SAME
    cost[:, model.checks : model.proof][~moves] = np.inf
    n, r = np.nonzero(np.isfinite(cost[:, model.checks : model.proof]))
    return n * model.count + model.checks + r, np.ones(len(n)), after[n, r]
