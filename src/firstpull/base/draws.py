"""Stable draws: the same key gives the same numbers on every platform and in every version.

A stream is named by what it is for, so that adding a fault or a parameter never reshuffles the others.
"""

from __future__ import annotations

import hashlib

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def _bits(key: tuple[object, ...], count: int) -> NDArray[np.uint64]:
    """Counter-based random bits of the stream that the key names."""
    digest = hashlib.sha256("\x1f".join(str(part) for part in key).encode()).digest()
    generator = np.random.Philox(key=np.frombuffer(digest[:16], dtype=np.uint64))
    return generator.random_raw(count)


def uniform(key: tuple[object, ...], count: int) -> FloatArray:
    """Independent uniform draws.

    Args:
        key: name of the stream [1], scalar parts.
        count: how many [1], scalar.

    Returns:
        Draws strictly between 0 and 1 [1], shape (count,).

    Valid: any key; 53 bits of resolution.
    Source: Salmon et al., Parallel random numbers: as easy as 1, 2, 3, SC11 (2011), counter-based generators.

    """
    return ((_bits(key, count) >> np.uint64(11)).astype(np.float64) + 0.5) * 2.0**-53


def stratified(key: tuple[object, ...], count: int) -> FloatArray:
    """One uniform draw in each of `count` equal strata, in random order.

    Args:
        key: name of the stream [1], scalar parts.
        count: how many [1], scalar.

    Returns:
        Draws strictly between 0 and 1 [1], shape (count,); their mean errs far less than independent ones.

    Valid: any key; strata of different keys are paired at random.
    Source: McKay, Beckman, Conover, Technometrics 21 (1979) 239-245, Latin hypercube sampling.

    """
    bits = uniform(key, 2 * count)
    order = np.argsort(bits[:count], kind="stable")
    return (order + bits[count:]) / count
