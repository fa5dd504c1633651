"""Made-up troubleshooting problems by seed, fixed before any planner was tuned on them.

A machine has `faults` faults, one repair each. The chances of the faults are log-normal (sigma 0.8), scaled to one
minus the share of the pairs (8 % shared evenly when there are pairs). Access items form short nests: an item lies
behind the one before it with chance 0.4; opening costs 2 to 8, closing 1 to 5. A repair costs 12 to 45 and a check 2 to
7; either lies behind one random item with chance 0.6 (and behind what that item lies behind). A check with two
outcomes points at each fault with chance 0.4; with three outcomes each fault gets one of the three. It reads wrong
with a chance of 1 to 6 % (small) or 2 to 8 % (large), spread evenly over the other outcomes. On a pair it shows what
the fault with the higher outcome shows; on a healthy machine outcome 0. One check in five needs the first item closed
(the machine must run). The proof costs 3 and needs everything closed; giving up costs 400. Seeds below 10,000 are for
tuning, seeds from 10,000 for reporting. All figures: judgement, chosen so that the clairvoyant cost is about 0.65 to
0.80 of what well-tuned information gain pays.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.reasoning.planner.problem import Problem, build_problem

Floats = NDArray[np.float64]


def instance(
    seed: int, faults: int, checks: int, items: int, pairs: int, outcomes: int, noise: tuple[float, float]
) -> Problem:
    """One problem: faults, checks, access items, pairs of faults, outcomes a check, least and most misreading."""
    draw = np.random.default_rng(seed)
    sets: list[tuple[int, ...]] = [(), *[(f,) for f in range(faults)]]
    chosen = [tuple(sorted(draw.choice(faults, 2, replace=False).tolist())) for _ in range(pairs)]
    sets += sorted(set(chosen))
    prior = np.zeros(len(sets))
    rates = draw.lognormal(0.0, 0.8, faults)
    share = 0.08 if pairs else 0.0
    prior[1 : faults + 1] = rates / rates.sum() * (1.0 - share)
    prior[faults + 1 :] = share / max(1, len(sets) - faults - 1)
    behind = [1 << a for a in range(items)]
    for a in range(1, items):
        if draw.random() < 0.4:
            behind[a] |= behind[a - 1]
    shut = draw.random(checks) < 0.2
    check_open = [0 if run else _place(draw, behind) for run in shut]
    successor = [[sets.index(tuple(f for f in s if f != r)) for s in sets] for r in range(faults)]
    return build_problem(
        prior=prior,
        healthy=0,
        open_cost=draw.uniform(2.0, 8.0, items),
        close_cost=draw.uniform(1.0, 5.0, items),
        check_cost=draw.uniform(2.0, 7.0, checks),
        check_open=check_open,
        check_closed=[1 if run else 0 for run in shut],
        likelihood=_readings(draw, sets, faults, checks, outcomes, noise),
        repair_cost=draw.uniform(12.0, 45.0, faults),
        repair_open=[_place(draw, behind) for _ in range(faults)],
        successor=successor,
        proof_cost=3.0,
        proof_closed=(1 << items) - 1,
        end_cost=400.0,
        end_closed=[(1 << items) - 1],
        name=f"seed {seed}: {faults} faults, {checks} checks, {items} access items, {pairs} pairs",
        units="minutes",
    )


def _place(draw: np.random.Generator, behind: list[int]) -> int:
    return behind[int(draw.integers(len(behind)))] if behind and draw.random() < 0.6 else 0


def _readings(
    draw: np.random.Generator,
    sets: list[tuple[int, ...]],
    faults: int,
    checks: int,
    outcomes: int,
    noise: tuple[float, float],
) -> Floats:
    shown = draw.integers(outcomes, size=(checks, faults)) if outcomes > 2 else draw.random((checks, faults)) < 0.4
    wrong = draw.uniform(*noise, checks)
    found = np.zeros((checks, outcomes, len(sets)))
    for c in range(checks):
        for s, present in enumerate(sets):
            right = max((int(shown[c, f]) for f in present), default=0)
            found[c, :, s] = wrong[c] / (outcomes - 1)
            found[c, right, s] = 1.0 - wrong[c]
    return found


def small(seed: int) -> Problem:
    """5 to 8 faults, 6 to 8 checks, 3 access items, 0 to 2 pairs."""
    draw = np.random.default_rng(seed + 1_000_000)
    faults, checks = int(draw.integers(5, 9)), int(draw.integers(6, 9))
    return instance(seed, faults, checks, 3, int(draw.integers(0, 3)), 2, (0.01, 0.06))


def large(seed: int) -> Problem:
    """100 faults, 50 pairs, 80 checks of three outcomes, 12 access items."""
    return instance(seed, 100, 80, 12, 50, 3, (0.02, 0.08))
