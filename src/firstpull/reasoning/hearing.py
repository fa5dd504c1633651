"""From a predicted value to the chance of each thing a hand, an eye, a gauge or a customer would report."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from firstpull.base import quantity as quantities
from firstpull.handbook.entries import Instrument, Reading

FloatArray = NDArray[np.float64]
LightArray = NDArray[np.float32]
Codes = NDArray[np.uint16]

# Shares that do not depend on the check: judgement, to be learnt from closed jobs.
SLIP_POSSIBLE = 0.004  # "would not let me" said of a machine that would have
SLIP_IMPOSSIBLE = 0.02  # a reading reported from a machine that would not run or turn
ASKED_AGAIN = 0.3  # share of single looks that a doubtful hand repeats
LEAST_TRIES = 3  # tries in which "now and then" shows
CODES = 65535  # steps between never and always where chances are kept
SMALLEST = 1e-6
LARGEST = 1e100  # what is beyond is read like this; its square is still a number


@dataclass(frozen=True, slots=True)
class Ear:
    """How one reading is heard: bands in its unit, noise, and slips.

    `span` is how wide slips scatter: in the reading's unit, or as a natural logarithm where the scale is one of ratios.
    """

    bands: tuple[tuple[float, float], ...]
    words: tuple[str, ...]
    unit: str
    log: bool
    absolute: float
    relative: float
    resolution: float
    bias: float
    blunder: float
    tries: int
    number: bool
    span: float
    instrument: tuple[object, ...] = ()  # what it is by its content: readings with one instrument share its error


def ear(reading: Reading, instrument: Instrument, tries: int = 1) -> Ear:
    """Join what the reading says with what the instrument does.

    The noise of a gauge is the instrument's and the scatter from try to try; of an eye only its detection curve.
    """
    edges = [(o.start, o.below) for o in reading.outcomes]
    bands = tuple((-np.inf if a is None else a, np.inf if b is None else b) for a, b in edges)
    gauge = reading.model == "gauge"
    log = reading.scale == "log"
    scale = _unit_scale(instrument.unit, reading.unit) if gauge else 0.0
    noise, relative = instrument.noise * scale, instrument.relative if gauge else 0.0
    by_ratio, by_amount = (reading.scatter, 0.0) if log else (0.0, reading.scatter)
    return Ear(
        bands=bands,
        words=tuple(o.id for o in reading.outcomes),
        unit=reading.unit,
        log=log,
        absolute=float(np.hypot(noise, by_amount)),
        relative=float(np.hypot(relative, by_ratio)),
        resolution=instrument.resolution * scale,
        bias=instrument.bias * scale,
        blunder=instrument.blunder if gauge else reading.false_alarm,
        tries=tries,
        number=reading.number,
        span=2.0 * _reach(bands, log),
        instrument=(instrument.unit, instrument.noise, instrument.relative, instrument.bias, instrument.resolution,
                    instrument.blunder, *sorted(instrument.setup.items())),
    )


def _reach(bands: tuple[tuple[float, float], ...], log: bool) -> float:
    """How far apart the outermost edges lie; with one edge, as much as itself or a factor of ten (judgement)."""
    finite = [e for band in bands for e in band if np.isfinite(e)]
    if log:
        above = [e for e in finite if e > 0]
        return max(float(np.log(max(above) / min(above))), float(np.log(10.0))) if above else float(np.log(10.0))
    if len(set(finite)) > 1:
        return max(finite) - min(finite)
    return max(1.0, abs(finite[0]) * 2) if finite else 1.0


def _unit_scale(source: str, target: str) -> float:
    """An instrument's own noise in the reading's unit; where it reads another kind (a share, a hiss) it has no say.

    One without a unit of its own reads in the reading's.
    """
    if source == "1":
        return 1.0
    here, there = quantities.unit(source), quantities.unit(target)
    return here.factor / there.factor if here.kind == there.kind else 0.0


def in_unit(value: FloatArray, source: str, target: str) -> FloatArray:
    """Values in another unit of the same kind.

    Args:
        value: values [source unit], shape (N,).
        source: name of the unit they are in [1], scalar.
        target: name of the unit wanted [1], scalar.

    Returns:
        The same values [target unit], shape (N,).

    Valid: units of one kind; others are returned unchanged.
    Source: base.quantity.

    """
    here, there = quantities.unit(source), quantities.unit(target)
    if here == there or here.kind != there.kind:
        return value
    return np.asarray((value * here.factor + here.offset - there.offset) / there.factor)


def deviation(ear: Ear, value: FloatArray, spread: float = 0.0) -> FloatArray:
    """Standard deviation of what is read about the true value, in the reading's unit.

    Args:
        ear: how it is heard [1], scalar.
        value: true values [reading's unit], shape (N,).
        spread: the hand's own give-or-take, one standard deviation [reading's unit], scalar.

    Returns:
        Standard deviation [reading's unit], shape (N,).

    Valid: any finite value.
    Source: JCGM 100:2008, 5.1.2 (independent contributions add in squares; resolution as a uniform of its width).

    """
    squares = ear.absolute**2 + (ear.relative * value) ** 2 + ear.resolution**2 / 12 + spread**2
    return np.sqrt(np.maximum(squares, 1e-24))


def word_chances(ear: Ear, value: FloatArray) -> FloatArray:
    """Chance of each word in one try, for machines that can be read.

    Args:
        ear: how it is heard [1], scalar.
        value: true values [reading's unit], shape (N,).

    Returns:
        Chances that sum to one over words [1], shape (N, words).

    Valid: NaN values give equal chances; callers treat them as not possible.
    Source: normal error of the reading, then bands; slips shared equally (judgement).

    """
    from scipy.special import ndtr  # heavy, needed only once readings are weighed

    true = _finite(value)
    below = np.stack([ndtr(_score(ear, edge, true)) for band in ear.bands for edge in band], axis=1)
    chance = below[:, 1::2] - below[:, 0::2]
    return np.asarray((1 - ear.blunder) * chance + ear.blunder / len(ear.words))


def _score(ear: Ear, edge: float, true: FloatArray) -> FloatArray:
    """How far an edge lies above the true values, in standard deviations of the reading."""
    if ear.log and edge <= 0.0:
        return np.full(true.shape, -np.inf)  # nothing is read below zero on a scale of ratios
    if not np.isfinite(edge) or not ear.log:
        return np.asarray((edge - true) / deviation(ear, true))
    safe = max(edge, SMALLEST)
    width = np.sqrt(ear.relative**2 + (ear.absolute**2 + ear.resolution**2 / 12) / safe**2 + 1e-18)
    return np.asarray((np.log(safe) - np.log(np.maximum(true, SMALLEST))) / width)


def _finite(value: FloatArray) -> FloatArray:
    """Values that can be reckoned with: zero for what is not there, bounded for what has no end."""
    return np.clip(np.nan_to_num(value, nan=0.0), -LARGEST, LARGEST)


def report_chances(ear: Ear, value: FloatArray, times: int | None = None) -> FloatArray:
    """Chance of each word, of "now and then", and of "not possible", over all tries of the check.

    Args:
        ear: how it is heard [1], scalar.
        value: true values [reading's unit], NaN where it cannot be read, shape (N,).
        times: tries made, the check's own number when None [1], scalar.

    Returns:
        Chances that sum to one [1], shape (N, words + 2).

    Valid: up to 20 tries.
    Source: tries independent given the machine; shares of repeated looks are judgement.

    """
    each = word_chances(ear, value)
    tries = times or ear.tries
    if tries > 1:
        same = each**tries
        mixed = np.maximum(1 - same.sum(axis=1), 0.0)
    else:
        mixed = ASKED_AGAIN * np.maximum(1 - (each**LEAST_TRIES).sum(axis=1), 0.0)
        same = each * (1 - mixed)[:, None]
    can = np.concatenate([same * (1 - SLIP_POSSIBLE), mixed[:, None] * (1 - SLIP_POSSIBLE),
                          np.full((len(value), 1), SLIP_POSSIBLE)], axis=1)
    cannot = np.full(can.shape, SLIP_IMPOSSIBLE / (can.shape[1] - 1))
    cannot[:, -1] = 1 - SLIP_IMPOSSIBLE
    return np.where(np.isnan(value)[:, None], cannot, can)


def coded(chance: NDArray[np.floating[Any]]) -> Codes:
    """Chances as whole numbers, for keeping many of them: a quarter of the memory, off by less than 1e-5.

    Args:
        chance: chances [1], shape (...).

    Returns:
        Codes [1], shape (...).

    Valid: 0..1.
    Source: rounding.
    """
    return np.asarray(np.rint(chance * CODES), dtype=np.uint16)


def decoded(codes: Codes) -> LightArray:
    """Chances from their codes.

    Args:
        codes: what `coded` gave [1], shape (...).

    Returns:
        Chances [1], shape (...).

    Valid: any code.
    Source: rounding.
    """
    return np.multiply(codes, np.float32(1.0 / CODES), dtype=np.float32)


def number_chance(ear: Ear, value: FloatArray, number: float, spread: float = 0.0) -> FloatArray:
    """Density of a number being read, times the span over which slips scatter, so that it compares with words.

    Args:
        ear: how it is heard [1], scalar.
        value: true values [reading's unit], NaN where it cannot be read, shape (N,).
        number: what was read [reading's unit], scalar.
        spread: the hand's own give-or-take, one standard deviation [reading's unit], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: finite numbers.
    Source: normal error of the reading, of its logarithm on a scale of ratios (there what is smaller than the noise
        reads like the noise); a slip is uniform over twice the span of the bands (judgement).

    """
    true = _finite(value)
    if ear.log:
        noise = float(np.sqrt(ear.absolute**2 + ear.resolution**2 / 12 + spread**2))
        least = max(noise, SMALLEST)
        read = max(number, least)
        sd: FloatArray | float = float(np.sqrt(ear.relative**2 + (noise / read) ** 2 + 1e-18))
        score = (np.log(read) - np.log(np.maximum(true, least))) / sd
    else:
        sd = deviation(ear, true, spread)
        score = (number - true) / sd
    density = np.exp(-0.5 * score**2) / (sd * np.sqrt(2 * np.pi)) * ear.span
    can = (1 - SLIP_POSSIBLE) * ((1 - ear.blunder) * density + ear.blunder)
    return np.where(np.isnan(value), SLIP_IMPOSSIBLE, can)


def seen_chance(ear: Ear, edge: float, value: FloatArray) -> FloatArray:
    """Chance that one place of several is reported.

    Args:
        ear: how it is heard [1], scalar.
        edge: the value from which half of all looks notice it [reading's unit], scalar.
        value: true values at that place [reading's unit], NaN where it cannot be read, shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: any edge; with a logarithmic scale, edges above zero.
    Source: detection by a normal threshold (judgement for its width).

    """
    from scipy.special import ndtr

    noticed = ndtr(-_score(ear, edge, _finite(value)))
    return np.asarray((1 - ear.blunder) * np.where(np.isnan(value), 0.0, noticed) + ear.blunder / 2)
