"""How often each screen may ask: a bucket that fills steadily and is emptied by asking."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock

MOST_KEPT = 4096


@dataclass(frozen=True, slots=True)
class Pace:
    """So many at once, and so many a second after that."""

    at_once: float
    a_second: float


# Judgement: a page and its files are five requests, a fast hand changes pages twice a second.
BENCH_PACE = Pace(2000, 100)
DEVICE_PACE = Pace(120, 10)
STRANGER_PACE = Pace(40, 1)
PAIRING_PACE = Pace(6, 1 / 30)


class Rates:
    """The buckets of all who ask; those longest unused are forgotten first."""

    def __init__(self, ticks: Callable[[], float] = time.monotonic) -> None:
        self._ticks, self._lock = ticks, Lock()
        self._left: dict[str, tuple[float, float]] = {}

    def wait(self, who: str, pace: Pace) -> int:
        """Whole seconds to wait before asking again; 0 when it may go on, and then it counts."""
        with self._lock:
            now = self._ticks()
            left, since = self._left.pop(who, (pace.at_once, now))
            left = min(pace.at_once, left + (now - since) * pace.a_second)
            goes = left >= 1
            self._left[who] = (left - 1 if goes else left, now)
            while len(self._left) > MOST_KEPT:
                del self._left[next(iter(self._left))]
            return 0 if goes else max(1, math.ceil((1 - left) / pace.a_second))
