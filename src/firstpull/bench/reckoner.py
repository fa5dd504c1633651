"""Who reckons for a workshop: what pages may ask of the workers, whatever these are made of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal, Protocol

from firstpull.reasoning.prices import Prices
from firstpull.workshop.fold import JobRecord

What = Literal["first", "settled", "strip", "chart"]
Listener = Callable[[], None]


@dataclass(frozen=True, slots=True)
class Known:
    """What was last said of a job: of which state of its record, and whether that has settled."""

    mark: str
    settled: bool
    answer: dict[str, Any]
    lights: bool
    restarted: bool = False


@dataclass(frozen=True, slots=True)
class Made:
    """What came of a thing that takes long: its value, or why there is none."""

    value: Any
    failed: str = ""


class Reckoner(Protocol):
    """Gives answers to jobs as recorded, later than asked, and tells who listens when there is one."""

    def want(self, mark: str, record: JobRecord, prices: Prices, eager: bool = True) -> None:
        """Have the answer to a job as recorded."""

    def known(self, job: str) -> Known | None:
        """What was last said of a job."""

    def trouble(self, job: str, mark: str) -> str:
        """Why a job in this state could not be reckoned; nothing when nothing is wrong."""

    def restarted(self, job: str, mark: str) -> bool:
        """Whether the reckoning of a job in this state had to be started again."""

    def wait_settled(self, job: str, mark: str, seconds: float) -> Known | None:
        """The settled answer to a state of a job, if it comes in time."""

    def call(self, what: What, mark: str, record: JobRecord, prices: Prices, *rest: Any, seconds: float = 30.0) -> Any:
        """Have one thing done and wait for it.

        Raises:
            FirstpullError: it could not be done, or not in time.
        """

    def made(self, what: What, mark: str, record: JobRecord, prices: Prices) -> Made | None:
        """A thing that takes long, once it is made; whoever asks first begins it, and nobody waits."""

    def listen(self, job: str, listener: Listener) -> None:
        """Call this whenever there is news of a job."""

    def unlisten(self, job: str, listener: Listener) -> None:
        """Call it no longer."""
