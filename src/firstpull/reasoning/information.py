"""What an outcome tells, in bits: about the state, or about which repairs are called for."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def group_bits(table: FloatArray, share: FloatArray, groups: NDArray[np.int64]) -> float:
    """What an outcome tells about which repairs are called for.

    Args:
        table: chance of each outcome in each state [1], shape (O, S).
        share: probability of each state [1], shape (S,).
        groups: group number of each state [1], shape (S,).

    Returns:
        Mutual information of outcome and group [bit], scalar.

    Valid: columns that sum to one.
    Source: Shannon, Bell Syst. Tech. J. 27 (1948) 379-423.
    """
    return GroupBits(share, groups).of(table)


class GroupBits:
    """What outcomes tell about which repairs are called for, for many tables over the same states."""

    def __init__(self, share: FloatArray, groups: NDArray[np.int64]) -> None:
        self._member = (groups[:, None] == np.unique(groups)[None, :]).astype(np.float64)
        self._parts = share @ self._member
        self._weighted = share[:, None] * self._member / np.maximum(self._parts, 1e-300)

    def of(self, table: FloatArray) -> float:
        """Mutual information of outcome and group.

        Args:
            table: chance of each outcome in each state [1], shape (O, S).

        Returns:
            Mutual information [bit], scalar.

        Valid: columns that sum to one.
        Source: Shannon, Bell Syst. Tech. J. 27 (1948) 379-423.
        """
        return float(self.each([table])[0])

    def each(self, tables: Sequence[FloatArray]) -> FloatArray:
        """Mutual information of outcome and group, for several tables at once.

        Args:
            tables: chances of outcomes in each state [1], shape (O, S) each.

        Returns:
            Mutual information [bit], shape (tables,).

        Valid: columns that sum to one.
        Source: Shannon, Bell Syst. Tech. J. 27 (1948) 379-423.
        """
        if not tables:
            return np.empty(0)
        starts = np.cumsum([0, *[len(t) for t in tables[:-1]]])
        return np.asarray(np.add.reduceat(_row_bits(np.concatenate(tables) @ self._weighted, self._parts), starts))


def mutual_bits(table: FloatArray, share: FloatArray) -> float:
    """What an outcome tells about the state.

    Args:
        table: chance of each outcome in each state [1], shape (O, S).
        share: probability of each state [1], shape (S,).

    Returns:
        Mutual information [bit], scalar.

    Valid: columns that sum to one.
    Source: Shannon, Bell Syst. Tech. J. 27 (1948) 379-423.

    """
    return float(_row_bits(table, share).sum())


def _row_bits(table: FloatArray, share: FloatArray) -> FloatArray:
    """What each outcome adds to the information about the state, shape (O,)."""
    joint = table * share
    mixed = joint.sum(axis=1, keepdims=True)
    with np.errstate(divide="ignore", invalid="ignore"):
        parts = np.where(joint > 0, joint * np.log2(table / mixed), 0.0)
    return np.asarray(parts.sum(axis=1))

