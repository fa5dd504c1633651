"""A handbook whose faults move three numbers, and its exact answer on a dense grid.

Each reading reads one number, alone or with the error that all readings with one gauge share, so the evidence of a
state is a sum over that error of products of one-dimensional integrals.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from firstpull.reasoning.acts import ReadingAct
from firstpull.reasoning.hearing import SLIP_POSSIBLE
from firstpull.reasoning.prior import NOTHING_WRONG
from firstpull.reasoning.weigh import Scales
from tests.reasoning.handbook import Made, bands, entry, measured, scales_of

FloatArray = NDArray[np.float64]
Faults = frozenset[str]

# The three numbers: where a healthy machine lies; one spread is 1 everywhere.
NUMBERS = {"key_offset_deg": 0.0, "trigger_error_deg": 10.0, "module_opens_c": 150.0}
UNITS = {"key_offset_deg": "deg", "trigger_error_deg": "deg", "module_opens_c": "C"}
# What each fault does: for each number it moves, the middle (from the healthy one) and the spread.
FAULTS: dict[str, dict[str, tuple[float, float]]] = {
    "a": {"key_offset_deg": (1.5, 0.8)},
    "b": {"key_offset_deg": (1.0, 1.6), "trigger_error_deg": (-1.2, 0.7)},
    "c": {"trigger_error_deg": (1.4, 1.0)},
    "d": {"trigger_error_deg": (0.8, 1.8), "module_opens_c": (1.3, 0.6)},
    "e": {"module_opens_c": (-1.6, 1.2)},
    "f": {"module_opens_c": (2.2, 2.0), "key_offset_deg": (-0.9, 0.5)},
}
RATES = {"a": 150.0, "b": 90.0, "c": 140.0, "d": 120.0, "e": 110.0, "f": 130.0}
BLUNDER = 0.03
SPREADS = (0.25, 0.35, 0.5)  # of the readings, from try to try
SHARED_ERROR = 0.4
GRID, ERRORS = 361, 73


@dataclass(frozen=True)
class Gauge:
    """A check: which number it reads, how far it scatters, whether its instrument has an error of its own."""

    name: str
    number: str
    scatter: float
    shared: bool


GAUGES = [Gauge(f"{number.replace('_', '-')}-{i}-{'shared' if shared else 'own'}", number, scatter, shared)
          for number in NUMBERS for i, scatter in enumerate(SPREADS) for shared in (False, True)]


def entries() -> list[Made]:
    """Faults and gauges."""
    made = [
        entry("fault", name, rate={"default": RATES[name]}, draws=[
            {"parameter": p, "form": "normal", "mean": NUMBERS[p] + middle, "sd": sd}
            for p, (middle, sd) in moves.items()
        ])
        for name, moves in FAULTS.items()
    ]
    made += [entry("instrument", "true", blunder=BLUNDER),
             entry("instrument", "off", blunder=BLUNDER, bias=SHARED_ERROR)]
    for g in GAUGES:
        middle = NUMBERS[g.number]
        reading = {"model": "gauge", "reads": g.number, "number": True, "scatter": g.scatter, "unit": UNITS[g.number],
                   "outcomes": bands({"low": middle - 1.0, "usual": middle + 1.0, "high": None})}
        made.append(entry("check", g.name, reading=[reading], instrument="off" if g.shared else "true"))
    return made


def scales(count: int, seed: int = 0) -> Scales:
    """Its likelihoods on a population of this size."""
    healthy = [{"parameter": p, "form": "normal", "mean": middle, "sd": 1.0} for p, middle in NUMBERS.items()]
    return scales_of(entries(), healthy, count=count, seed=seed)


def spread_of(state: Faults, number: str) -> tuple[float, float]:
    """Middle and spread of a number; of two faults that set it, the one whose draw is written last."""

    def written(move: tuple[float, float]) -> str:
        return repr(("draw", number, "normal", None, (), None, None, NUMBERS[number] + move[0], move[1]))

    last = max((FAULTS[f][number] for f in state if number in FAULTS[f]), key=written, default=(0.0, 1.0))
    return NUMBERS[number] + last[0], last[1]


def chance(read: float, true: FloatArray, scatter: float) -> FloatArray:
    """Chance of a number, slips spread over twice the bands' width."""
    span = 4.0
    density = stats.norm.pdf(read, true, scatter) * span
    return np.asarray((1 - SLIP_POSSIBLE) * ((1 - BLUNDER) * density + BLUNDER))


def log_evidence(states: Sequence[Faults], acts: Sequence[ReadingAct]) -> FloatArray:
    """Logarithm of the exact chance of all readings in each state; states that move a number alike share its grid."""
    error = np.linspace(-4.5, 4.5, ERRORS)
    weight = stats.norm.pdf(error)
    known = {
        (number, *spread): _by_error(number, *spread, acts, error)
        for number in NUMBERS for spread in {spread_of(state, number) for state in states}
    }
    found = [sum(known[n, *spread_of(state, n)] for n in NUMBERS) + np.log(weight / weight.sum()) for state in states]
    return np.asarray(np.logaddexp.reduce(np.array(found), axis=1))


def _by_error(number: str, middle: float, sd: float, acts: Sequence[ReadingAct], error: FloatArray) -> FloatArray:
    """Logarithm of the chance of all readings of one number, by the error that the one gauge's readings share."""
    by_name = {g.name: g for g in GAUGES}
    grid = np.linspace(middle - 6 * sd, middle + 6 * sd, GRID)
    density = stats.norm.pdf(grid, middle, sd)
    joint = np.broadcast_to(np.log(density / density.sum()), (len(error), GRID))
    for act in acts:
        gauge = by_name[act.check]
        if gauge.number == number:
            shift = SHARED_ERROR * error[:, None] if gauge.shared else np.zeros((1, 1))
            joint = joint + np.log(chance(float(act.reads[0].number or 0.0), grid[None, :] + shift, gauge.scatter))
    return np.asarray(np.logaddexp.reduce(joint, axis=1))


def job(seed: int, readings: int, state: Faults | None = None) -> tuple[Faults, list[ReadingAct]]:
    """A machine drawn from the states, unless one is given, and read with gauges picked at random."""
    deal = np.random.default_rng(seed)
    odds = np.array([np.exp(NOTHING_WRONG), *(r / 1000 / (1 - r / 1000) for r in RATES.values())])
    picked = deal.choice(len(odds), p=odds / odds.sum())
    if state is None:
        state = frozenset([[*RATES][picked - 1]] if picked else [])
    true = {p: deal.normal(*spread_of(state, p)) for p in NUMBERS}
    return state, read_on(true, deal, [GAUGES[deal.integers(len(GAUGES))] for _ in range(readings)])


def read_on(true: dict[str, float], deal: np.random.Generator, gauges: Sequence[Gauge]) -> list[ReadingAct]:
    """What these gauges give on a machine with these numbers."""
    off = deal.normal() * SHARED_ERROR
    acts = []
    for i, gauge in enumerate(gauges):
        read = deal.normal(true[gauge.number] + (off if gauge.shared else 0.0), gauge.scatter)
        if deal.random() < BLUNDER:
            read = NUMBERS[gauge.number] + deal.uniform(-2, 2)
        acts.append(measured(gauge.name, float(read), episode=i + 1))
    return acts
