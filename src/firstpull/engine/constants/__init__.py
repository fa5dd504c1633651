"""The numbers we had to guess or look up, one file a system, each read at the moment of use.

A system file gives `CONSTANTS`, a mapping from name to `Constant(value, unit, source)`. Physics calls
`value("name")` inside its functions, never at import, so that `shifted` can ask what the answer would be in a
world where our guesses are off.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar

from firstpull.base.errors import FirstpullError
from firstpull.engine.constants.types import Constant

__all__ = ["CONSTANTS", "Constant", "guessed", "shifted", "value"]


def _gather() -> dict[str, Constant]:
    found: dict[str, Constant] = {}
    for name in sorted(m.name for m in pkgutil.iter_modules(__path__) if m.name != "types"):
        module = importlib.import_module(f"{__name__}.{name}")
        for key, constant in module.CONSTANTS.items():
            if key in found:
                raise FirstpullError(f"two constants named '{key}'", f"engine constants, {name}", "one name, one thing")
            found[key] = constant
    return found


CONSTANTS: dict[str, Constant] = _gather()
_factors: ContextVar[Mapping[str, float] | None] = ContextVar("factors", default=None)


def value(name: str) -> float:
    """The value of a constant in the world being looked at.

    Args:
        name: which constant [1], scalar.

    Returns:
        Its value [unit of the constant], scalar.

    Raises:
        FirstpullError: no such constant.

    Valid: any known name.
    Source: the file of its system.
    """
    try:
        plain = CONSTANTS[name].value
    except KeyError:
        raise FirstpullError(f"unknown constant '{name}'", "engine", "one of the engine constants") from None
    factors = _factors.get()
    return plain if factors is None else plain * factors.get(name, 1.0)


def guessed() -> tuple[str, ...]:
    """Names of all constants that are our own judgement, in order.

    Returns:
        Names [1], scalar tuple.

    Valid: always.
    Source: the marks in the constants files.
    """
    return tuple(sorted(name for name, constant in CONSTANTS.items() if constant.is_judgement))


@contextmanager
def shifted(factors: Mapping[str, float]) -> Iterator[None]:
    """Within this block the named constants stand at their value times the factor; blocks do not add up.

    Args:
        factors: factor by name of the constant [1], scalar each.

    Returns:
        Nothing of use [1], scalar.

    Raises:
        FirstpullError: no such constant.

    Valid: factors above 0; each thread and task sees its own block.
    Source: judgement.
    """
    unknown = sorted(set(factors) - set(CONSTANTS))
    if unknown:
        raise FirstpullError(f"unknown constants {unknown}", "engine", "names from guessed()")
    token = _factors.set(dict(factors))
    try:
        yield
    finally:
        _factors.reset(token)
