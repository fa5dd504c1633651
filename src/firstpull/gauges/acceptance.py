"""Whether a value is to specification, when the reading itself has a spread: passed, failed or undecided.

The guard band stands on both sides: conformity and non-conformity must each be proved.
"""

from __future__ import annotations

import math
from typing import Literal

Verdict = Literal["passed", "failed", "undecided"]

# One-sided 95 % of a normal distribution. Source: ISO 14253-1:2017 default decision rule (from memory).
COVERAGE = 1.6449


def accept(value: float, uncertainty: float, low: float | None, high: float | None) -> Verdict:
    """Judge one reading against a range.

    Args:
        value: what was read [unit of the range], scalar.
        uncertainty: standard uncertainty of the reading [same unit], scalar.
        low: lower limit, none when None [same unit], scalar.
        high: upper limit, none when None [same unit], scalar.

    Returns:
        "passed" inside both guard bands, "failed" beyond one, else "undecided" [1], scalar.

    Raises:
        ValueError: a negative or missing uncertainty, or a value that is not finite.

    Valid: any range; with no limit at all every value is undecided.
    Source: ISO 14253-1:2017 (decision rules for verifying conformity or nonconformity).
    """
    if not math.isfinite(value) or not math.isfinite(uncertainty) or uncertainty < 0:
        raise ValueError(f"a reading of {value} with an uncertainty of {uncertainty}")
    if low is None and high is None:
        return "undecided"
    guard = COVERAGE * uncertainty
    over = -math.inf if high is None else value - high
    under = -math.inf if low is None else low - value
    worst = max(over, under)
    if worst <= -guard:
        return "passed"
    return "failed" if worst > guard else "undecided"


def conformance_probability(value: float, uncertainty: float, low: float | None, high: float | None) -> float:
    """Chance that the true value lies within a range, given one reading.

    Args:
        value: what was read [unit of the range], scalar.
        uncertainty: standard uncertainty of the reading, above zero [same unit], scalar.
        low: lower limit, none when None [same unit], scalar.
        high: upper limit, none when None [same unit], scalar.

    Returns:
        Probability of conformity [1], scalar.

    Raises:
        ValueError: an uncertainty that is not above zero.

    Valid: normal error, flat prior.
    Source: JCGM 106:2012, 7.
    """
    if not uncertainty > 0:
        raise ValueError(f"an uncertainty of {uncertainty}")

    def below(limit: float) -> float:
        return 0.5 * (1 + math.erf((limit - value) / (uncertainty * math.sqrt(2))))

    return (1.0 if high is None else below(high)) - (0.0 if low is None else below(low))
