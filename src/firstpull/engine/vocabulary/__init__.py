"""All parameters, observables, sizes and tokens, gathered from one file a system.

Each system file gives PARAMETERS, OBSERVABLES, SIZES and TOKENS (tuples, possibly empty).
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterable
from typing import Protocol, TypeVar

from firstpull.base.errors import FirstpullError
from firstpull.engine.vocabulary.types import Observable, Parameter, Size, Token


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_T = TypeVar("_T", bound=_Named)


def _gather(kind: str, entries: Iterable[_T]) -> dict[str, _T]:
    found: dict[str, _T] = {}
    for entry in entries:
        if entry.id in found:
            raise FirstpullError(f"two entries named '{entry.id}'", f"engine vocabulary, {kind}", "one name, one thing")
        found[entry.id] = entry
    return found


def _modules() -> list[object]:
    names = sorted(m.name for m in pkgutil.iter_modules(__path__) if m.name != "types")
    return [importlib.import_module(f"{__name__}.{name}") for name in names]


_MODULES = _modules()
PARAMETERS: dict[str, Parameter] = _gather(
    "parameters", (p for m in _MODULES for p in getattr(m, "PARAMETERS", ()))
)
OBSERVABLES: dict[str, Observable] = _gather(
    "observables", (o for m in _MODULES for o in getattr(m, "OBSERVABLES", ()))
)
SIZES: dict[str, Size] = _gather("sizes", (s for m in _MODULES for s in getattr(m, "SIZES", ())))
TOKENS: dict[str, Token] = _gather("tokens", (t for m in _MODULES for t in getattr(m, "TOKENS", ())))
