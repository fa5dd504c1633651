"""What happened on the machine, as reasoning takes it: readings, repairs, told facts, complaints."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from firstpull.engine.vocabulary.types import Arrangement

Answer = Literal["yes", "no", "unknown"]
Mood = Literal["failing", "fine", "unknown"]
NOT_POSSIBLE = "not-possible"
NOT_DONE = "not-done"
NOW_AND_THEN = "now-and-then"
UNIVERSAL = (NOT_POSSIBLE, NOT_DONE, NOW_AND_THEN)
STILL = "still"
GONE = "gone"


@dataclass(frozen=True, slots=True)
class Read:
    """What one reading gave: a word, a number in the reading's unit, or several places.

    `spread` is the hand's own give-or-take on a number, one standard deviation.
    """

    key: str | None = None
    word: str | None = None
    number: float | None = None
    places: tuple[str, ...] | None = None
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class ReadingAct:
    """A check was done in an arrangement and gave this."""

    check: str
    reads: tuple[Read, ...]
    arrangement: Arrangement
    mood: Mood = "unknown"
    episode: int = 0
    instrument: str | None = None
    times: int = 1


@dataclass(frozen=True, slots=True)
class RepairAct:
    """A repair was done; several done together share one `moment` and stay unseparated."""

    repair: str
    by: Literal["shop", "owner", "previous"] = "shop"


@dataclass(frozen=True, slots=True)
class ToldAct:
    """The customer was asked about the machine's history."""

    fact: str
    answer: Answer = "yes"


@dataclass(frozen=True, slots=True)
class ComplaintAct:
    """The customer says so; after a repair, whether it is still so."""

    complaint: str
    holds: bool = True
    episode: int = 0


@dataclass(frozen=True, slots=True)
class SilenceAct:
    """All that the customer did not complain of when these complaints were said."""

    said: tuple[str, ...]


Act = ReadingAct | RepairAct | ToldAct | ComplaintAct | SilenceAct
