"""Virtual machines under one arrangement: parameters in, quantities worked out once and only when asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from firstpull.base.errors import FirstpullError
from firstpull.engine.shelf import Noted, Place, Shelf, Trace
from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.engine.vocabulary.types import Arrangement, Choke, Conditions, Drive, Load, Setup, Thermal

FloatArray = NDArray[np.float64]
Rule = Callable[["Machine"], FloatArray]
RULES: dict[str, Rule] = {}
_MIDDLE: Mapping[str, FloatArray] = {}
# Having seen a block of up to 32 MB freed, the allocator of glibc keeps freed memory (mallopt(3), dynamic threshold);
# else every large result costs calls to the system and faults for its pages, a fifth of the time of a start.
np.empty(4_000_000)


def rule(name: str) -> Callable[[Rule], Rule]:
    """Register how a quantity follows from parameters and other quantities."""

    def keep(function: Rule) -> Rule:
        if name in RULES:
            raise FirstpullError(f"two rules for '{name}'", "engine wiring", "one rule a quantity")
        RULES[name] = function
        return function

    return keep


@dataclass
class Machine:
    """N virtual machines of one class under one arrangement.

    `params` holds one array of N values a parameter; a parameter that is not given stands at its healthy middle.
    `used` and `asked` record which parameters and which tokens were asked for, `runs` how often each rule ran.
    Quantities in `_known` at the start are given; copies share the shelf, and on it what their arrangements cannot
    tell apart. A rule asks with `off`, `added`, `drive`, `thermal`, `choke` and `load`, and uses `arrangement` itself
    only to make another one of it.
    """

    params: Mapping[str, FloatArray]
    sizes: Mapping[str, float | str]
    conditions: Conditions
    arrangement: Arrangement
    setup: Setup
    count: int
    used: set[str] = field(default_factory=set)
    asked: set[str] = field(default_factory=set)
    runs: dict[str, int] = field(default_factory=dict)
    _known: dict[str, FloatArray] = field(default_factory=dict)
    shelf: Shelf = field(default_factory=Shelf, repr=False)
    # Not handed on by dataclasses.replace: a copy with other parameters must not find these.
    _views: dict[Arrangement, Machine] = field(default_factory=dict, init=False, repr=False)
    _traces: dict[str, Trace] = field(default_factory=dict, init=False, repr=False)

    def __post_init__(self) -> None:
        """Note where these machines stand."""
        stand = self.arrangement
        self.setup = Noted(self.setup.values, self.shelf.running)
        for name, value in self._known.items():
            self._known[name] = self.shelf.given(name, value)
        self._place = Place(stand, self.setup, dict(self._known))
        self._room = self.shelf.room(self.params, self.sizes, self.conditions, self.count)

    def rearranged(self, arrangement: Arrangement, setup: Setup | None = None) -> Machine:
        """The same machines in another arrangement, under another instrument."""
        if setup is not None:
            return replace(self, arrangement=arrangement, setup=setup, _known={})
        if arrangement == self.arrangement:
            return self
        if arrangement not in self._views:
            self._views[arrangement] = replace(self, arrangement=arrangement, _known={})
        return self._views[arrangement]

    def usual(self) -> Machine:
        """One machine of the class with everything at its healthy middle, in the same arrangement."""
        return replace(self, params=_MIDDLE, count=1, used=set(), asked=set(), runs={}, _known={})

    def parameter(self, name: str) -> FloatArray:
        """The values of one parameter, shape (N,)."""
        self.used.add(name)
        given = self.params.get(name)
        if given is not None:
            return given
        if name not in PARAMETERS:
            raise FirstpullError(f"unknown parameter '{name}'", "engine", "one of the engine vocabulary")
        middle = PARAMETERS[name].healthy.quantile(np.full(1, 0.5))[0]
        return np.full(self.count, middle)

    def size(self, name: str) -> float:
        """A size of the class that is a number."""
        value = self.sizes.get(name, SIZES[name].default)
        if isinstance(value, str):
            raise FirstpullError(f"size '{name}' is a word", "engine", "ask for it with trait()")
        return float(value)

    def trait(self, name: str) -> str:
        """A size of the class that is a word."""
        return str(self.sizes.get(name, SIZES[name].default))

    def off(self, token: str) -> bool:
        """Whether this thing of the machine is off, open or out."""
        self.asked.add(token)
        if self.shelf.running:
            self.shelf.running[-1].off.add(token)
        return token in self.arrangement.off

    def added(self, token: str) -> bool:
        """Whether this thing was added by us."""
        self.asked.add(token)
        if self.shelf.running:
            self.shelf.running[-1].added.add(token)
        return token in self.arrangement.added

    @property
    def drive(self) -> Drive:
        """What spins it."""
        return self._noted("drive").drive

    @property
    def thermal(self) -> Thermal:
        """How warm it is."""
        return self._noted("thermal").thermal

    @property
    def choke(self) -> Choke:
        """Where the choke stands."""
        return self._noted("choke").choke

    @property
    def load(self) -> Load:
        """How it is loaded."""
        return self._noted("load").load

    def _noted(self, what: str) -> Arrangement:
        if self.shelf.running:
            self.shelf.running[-1].stands.add(what)
        return self.arrangement

    def quantity(self, name: str) -> FloatArray:
        """A quantity, shape (N,); worked out at the first question and remembered."""
        value = self._known.get(name)
        if value is None:
            value = self._found(name)
        running = self.shelf.running
        if running:
            trace = self._traces.get(name)
            if trace is not None:
                running[-1].take(trace)
            running[-1].through.add(name)
        return value

    def _found(self, name: str) -> FloatArray:
        """From the shelf, else worked out."""
        found = self._room.find(name, self._place)
        value, trace = found or self._worked_out(name)
        self._traces[name] = trace
        self._known[name] = value
        return value

    def _worked_out(self, name: str) -> tuple[FloatArray, Trace]:
        if name not in RULES:
            raise FirstpullError(f"no rule for '{name}'", "engine wiring", "one of " + ", ".join(sorted(RULES)))
        self.runs[name] = self.runs.get(name, 0) + 1
        trace = Trace()
        self.shelf.running.append(trace)
        try:
            value = RULES[name](self)
        finally:
            self.shelf.running.pop()
        self._room.keep(name, self._place, trace, value)
        return value, trace
