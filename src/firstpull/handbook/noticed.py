"""Which parameters the checks of a class can notice, by asking the engine what each observable depends on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Drive, Setup, Thermal
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook


@dataclass(frozen=True)
class Answer:
    """What one question to the engine depended on; `fault` says why there is no answer yet."""

    parameters: frozenset[str] = frozenset()
    setups: frozenset[str] = frozenset()
    fault: str = ""


@dataclass
class Noticed:
    """By check: the parameters that it depends on, and the set-up numbers that the engine asked for.

    `unanswered` holds the observables that the engine cannot say yet, with the reason.
    """

    parameters: dict[str, frozenset[str]] = field(default_factory=dict)
    setups: dict[str, frozenset[str]] = field(default_factory=dict)
    unanswered: dict[str, str] = field(default_factory=dict)

    @property
    def by_any(self) -> frozenset[str]:
        """The parameters that some check depends on."""
        return frozenset().union(*self.parameters.values())


# Classes with the same traits are asked once: what a rule asks for does not depend on numbers.
Asked = dict[tuple[frozenset[tuple[str, str]], Arrangement, str], Answer]


def noticed(mine: ClassBook, asked: Asked | None = None) -> Noticed:
    """What each check of this class depends on, by eye or through the engine; `asked` keeps answers."""
    asked = {} if asked is None else asked
    traits = frozenset((name, value) for name, value in mine.sizes.items() if isinstance(value, str))
    found = Noticed()
    for check in mine.checks.values():
        seen = set(_by_eye(check))
        setups: set[str] = set()
        for arrangement in arrangements(mine, check):
            for name in observables(check):
                key = (traits, arrangement, name)
                if key not in asked:
                    asked[key] = _ask(mine.sizes, arrangement, name)
                seen |= asked[key].parameters
                setups |= asked[key].setups
                if asked[key].fault:
                    found.unanswered[name] = asked[key].fault
        found.parameters[check.id] = frozenset(seen)
        found.setups[check.id] = frozenset(setups)
    return found


def observables(check: Check) -> list[str]:
    """The observables that a check reads through an instrument."""
    words = [
        word
        for reading in check.readings
        if reading.model == "gauge"
        for word in (reading.reads, *(outcome.reads or "" for outcome in reading.outcomes))
    ]
    return [word for word in dict.fromkeys(words) if word in OBSERVABLES]


def _by_eye(check: Check) -> list[str]:
    return [
        word
        for reading in check.readings
        if reading.model == "eye-and-hand"
        for word in (reading.reads, *(outcome.reads or "" for outcome in reading.outcomes))
        if word
    ]


def arrangements(mine: ClassBook, check: Check) -> list[Arrangement]:
    """What a check asks for with every drive of the class, and with each varied item the other way round."""
    off = {*check.needs.off, *check.wants.off}
    on = {*check.needs.on, *check.wants.on}
    drives: list[Drive] = ["none"]
    if check.spins:
        drives = [way.drive for way in mine.drives if not check.drives or way.drive in check.drives]
    elif check.runs:
        drives = ["running"]
    found = []
    for varied in ((), *((item,) for item in check.varies)):
        gone = _tokens(mine, {*off, *varied}, added=False)
        fitted = _tokens(mine, {*on, *varied}, added=True)
        thermal: Thermal = "hot" if check.thermal == "hot" else "cold"
        found += [Arrangement(gone, fitted, drive, thermal, check.choke, check.load) for drive in drives]
    return found


def _tokens(mine: ClassBook, items: set[str], added: bool) -> frozenset[str]:
    there = [mine.access[item] for item in items if item in mine.access]
    return frozenset(token for item in there if item.added == added for token in item.tokens)


class _Listening(dict[str, float]):
    """Set-up numbers that remember which were asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.names: set[str] = set()

    def get(self, key: str, default: Any = None) -> Any:
        self.names.add(key)
        return default


def _ask(sizes: Mapping[str, float | str], arrangement: Arrangement, name: str) -> Answer:
    # Physics is heavy, and only this question needs it.
    from firstpull.engine import wiring
    from firstpull.engine.machine import Machine

    assert wiring.__name__  # loading it registers the rules
    setup = _Listening()
    machine = Machine({}, sizes, Conditions(), arrangement, Setup(setup), 2)
    entry = OBSERVABLES[name]
    fault = ""
    try:
        with np.errstate(all="ignore"):
            machine.quantity(name)
            if entry.running:
                machine.quantity("would_run")
            elif entry.turning:
                machine.quantity("turns")
    except FirstpullError as error:
        fault = error.what
    except (ArithmeticError, LookupError, TypeError, ValueError) as error:  # sizes of which no engine can be made
        fault = f"{type(error).__name__.removesuffix('Error').lower()} error with these sizes"
    return Answer(frozenset(machine.used), frozenset(setup.names), fault)
