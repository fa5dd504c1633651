"""Long arrays in pieces, and how finely they are worked out."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

Precision = type[np.float32] | type[np.float64]


def blocks(count: int, most: int) -> list[slice]:
    """Slices of nearly equal length that cover all machines.

    Args:
        count: how many machines there are [1], scalar.
        most: how many a slice holds at most [1], scalar.

    Returns:
        Slices in order [1], scalar list; none for no machine.

    Valid: counts from 0, at most one or more.
    Source: definition.
    """
    pieces = -(-count // most)
    edges = [count * k // pieces for k in range(pieces + 1)] if pieces else [0]
    return [slice(a, b) for a, b in pairwise(edges)]
