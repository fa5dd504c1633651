"""What a parameter, an observable, a size and an arrangement are."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from firstpull.base.spread import Spread

Drive = Literal["none", "rope", "lazy-rope", "drill", "starter", "running"]
Thermal = Literal["cold", "hot"]
Choke = Literal["open", "part", "closed"]
Load = Literal["none", "half", "full"]
DRIVES: tuple[Drive, ...] = ("none", "rope", "lazy-rope", "drill", "starter", "running")
THERMALS: tuple[Thermal, ...] = ("cold", "hot")
CHOKES: tuple[Choke, ...] = ("open", "part", "closed")
LOADS: tuple[Load, ...] = ("none", "half", "full")


@dataclass(frozen=True, slots=True)
class Parameter:
    """One physical number that differs from machine to machine and that a fault may move."""

    id: str
    unit: str
    low: float
    high: float
    healthy: Spread
    system: str
    meaning: str
    source: str


@dataclass(frozen=True, slots=True)
class Observable:
    """Something that can be measured or witnessed on a machine in an arrangement.

    `running` says that the engine must run for it: its value is NaN on machines that would not run.
    `turning` says that something must spin it: NaN on machines that do not turn. `brisk` says that a pull by rope must
    be a brisk one: NaN on machines so stiff that no hand would call it a pull. `roped` says that a rope must be there:
    NaN where it is broken.
    """

    id: str
    unit: str
    meaning: str
    running: bool = False
    turning: bool = False
    brisk: bool = False
    roped: bool = False


@dataclass(frozen=True, slots=True)
class Size:
    """A number or a word that is fixed for a machine class."""

    id: str
    unit: str
    meaning: str
    default: float | str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Token:
    """A thing on the machine (can be off, open, out) or a thing we add, as the engine understands it."""

    id: str
    added: bool
    meaning: str


@dataclass(frozen=True, slots=True)
class Conditions:
    """The day at the bench."""

    altitude_m: float = 100.0
    air_c: float = 18.0


@dataclass(frozen=True, slots=True)
class Arrangement:
    """What is off, what is added, what spins it, and how warm, choked and loaded it is at the moment of a reading.

    `off` and `added` hold token ids.
    """

    off: frozenset[str] = frozenset()
    added: frozenset[str] = frozenset()
    drive: Drive = "none"
    thermal: Thermal = "cold"
    choke: Choke = "open"
    load: Load = "none"


@dataclass(frozen=True, slots=True)
class Setup:
    """How the instrument is set up; what a gauge does to the machine it is on. Numbers by name."""

    values: dict[str, float] = field(default_factory=dict)

    def get(self, name: str, default: float) -> float:
        """One number of the set-up, or the default of a usual instrument."""
        return self.values.get(name, default)
