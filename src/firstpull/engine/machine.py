"""Virtual machines under one arrangement: parameters in, quantities worked out once and only when asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]
Rule = Callable[["Machine"], FloatArray]
RULES: dict[str, Rule] = {}


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
    # Not handed on by dataclasses.replace: a copy with other parameters must not find these views.
    _views: dict[Arrangement, Machine] = field(default_factory=dict, init=False, repr=False)

    def rearranged(self, arrangement: Arrangement) -> Machine:
        """The same machines in another arrangement, made once and remembered with what it works out."""
        if arrangement == self.arrangement:
            return self
        if arrangement not in self._views:
            self._views[arrangement] = replace(self, arrangement=arrangement, _known={})
        return self._views[arrangement]

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
        return token in self.arrangement.off

    def added(self, token: str) -> bool:
        """Whether this thing was added by us."""
        self.asked.add(token)
        return token in self.arrangement.added

    def quantity(self, name: str) -> FloatArray:
        """A quantity, shape (N,); worked out at the first question and remembered."""
        if name not in self._known:
            if name not in RULES:
                raise FirstpullError(f"no rule for '{name}'", "engine wiring", "one of " + ", ".join(sorted(RULES)))
            self.runs[name] = self.runs.get(name, 0) + 1
            self._known[name] = RULES[name](self)
        return self._known[name]
