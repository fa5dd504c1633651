"""The closed list of forms in which a number can vary, and their quantiles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from firstpull.base.errors import FirstpullError

FloatArray = NDArray[np.float64]
Form = Literal["fixed", "choice", "uniform", "log-uniform", "normal", "log-normal", "shift", "scale"]


@dataclass(frozen=True, slots=True)
class Spread:
    """How a number varies: a form, its two numbers, and bounds that always hold.

    fixed: a. choice: values with equal chance. uniform, log-uniform: from a to b. normal: mean a, standard
    deviation b. log-normal: median a, b the standard deviation of the natural logarithm. shift, scale: the
    healthy value plus, or times, a number uniform from a to b.
    """

    form: Form
    a: float = 0.0
    b: float = 0.0
    values: tuple[float, ...] = ()
    low: float = -np.inf
    high: float = np.inf

    def __post_init__(self) -> None:
        for wrong, right in self._faults():
            raise FirstpullError(wrong, f"spread of form '{self.form}'", right)

    def _faults(self) -> list[tuple[str, str]]:
        faults = []
        if self.form == "choice" and not self.values:
            faults.append(("no values to choose from", "values = [..]"))
        if self.form in ("uniform", "log-uniform", "shift", "scale") and self.b < self.a:
            faults.append((f"it runs from {self.a} down to {self.b}", "the smaller number first"))
        if self.form in ("log-uniform", "log-normal") and self.a <= 0:
            faults.append((f"{self.a} has no logarithm", "a number above zero"))
        if self.form in ("normal", "log-normal") and self.b < 0:
            faults.append((f"a spread of {self.b}", "zero or more"))
        if self.low > self.high:
            faults.append((f"bounds {self.low} to {self.high}", "the lower bound first"))
        return faults

    @property
    def is_relative(self) -> bool:
        """Whether the draw starts from the healthy value."""
        return self.form in ("shift", "scale")

    def quantile(self, share: FloatArray, healthy: FloatArray | None = None) -> FloatArray:
        """The values below which the given shares of draws fall.

        Args:
            share: shares strictly between 0 and 1 [1], shape (N,).
            healthy: healthy values, needed by shift and scale [unit of the number], shape (N,).

        Returns:
            Values within the bounds [unit of the number], shape (N,).

        Raises:
            FirstpullError: when a relative form gets no healthy values.

        Valid: shares in (0, 1).
        Source: definitions of the distributions; bounds clip (judgement: mass at the bound, not redrawn).

        """
        if self.is_relative and healthy is None:
            raise FirstpullError(f"'{self.form}' needs the healthy value", "spread", "draw the healthy value first")
        drawn = self._drawn(share, healthy)
        return np.asarray(np.clip(drawn, self.low, self.high))

    def _drawn(self, share: FloatArray, healthy: FloatArray | None) -> FloatArray:
        if self.form == "fixed":
            return np.full(share.shape, self.a, dtype=np.float64)
        if self.form == "choice":
            index = np.minimum((share * len(self.values)).astype(int), len(self.values) - 1)
            chosen: FloatArray = np.asarray(self.values, dtype=np.float64)[index]
            return chosen
        if self.form in ("normal", "log-normal"):
            from scipy.special import ndtri  # heavy, and only needed once a population is drawn

            score: FloatArray = ndtri(share)
            if self.form == "normal":
                return np.asarray(self.a + self.b * score)
            return np.asarray(self.a * np.exp(self.b * score))
        if self.form == "log-uniform":
            return np.asarray(np.exp(np.log(self.a) + share * (np.log(self.b) - np.log(self.a))))
        between = self.a + share * (self.b - self.a)
        if self.form == "uniform":
            return between
        assert healthy is not None
        return healthy + between if self.form == "shift" else healthy * between
