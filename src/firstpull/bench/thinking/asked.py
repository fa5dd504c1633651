"""What is sent to a worker and what comes back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from firstpull.bench.reckoner import What
from firstpull.reasoning.prices import Prices
from firstpull.workshop.fold import JobRecord


@dataclass(frozen=True, slots=True)
class Asked:
    """One piece of reckoning: which job as recorded, and what of it: quick answer, settled one, strip or chart."""

    number: int
    what: What
    mark: str
    record: JobRecord
    prices: Prices
    rest: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class Answered:
    """What came of it: a value, that it was given up because something newer came, or what went wrong.

    `lights` says of an answer whether its next step sparks, glows or runs.
    """

    number: int
    value: Any = None
    lights: bool = False
    stopped: bool = False
    failed: str = ""
