"""What one observable shows on machines that differ from the healthy middle in the named parameters only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

import numpy as np
import pytest
from numpy.typing import NDArray

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]


class Shown(Protocol):
    def __call__(
        self,
        which: str,
        arrangement: Arrangement | None = None,
        sizes: Mapping[str, float | str] | None = None,
        conditions: Conditions | None = None,
        setup: Setup | None = None,
        **params: object,
    ) -> FloatArray: ...


@pytest.fixture
def shown() -> Shown:
    def look(
        which: str,
        arrangement: Arrangement | None = None,
        sizes: Mapping[str, float | str] | None = None,
        conditions: Conditions | None = None,
        setup: Setup | None = None,
        **params: object,
    ) -> FloatArray:
        values = {name: np.atleast_1d(np.asarray(value, dtype=np.float64)) for name, value in params.items()}
        length = max((len(value) for value in values.values()), default=1)
        values = {name: np.broadcast_to(value, (length,)).copy() for name, value in values.items()}
        found = predict(
            values, sizes or {}, conditions or Conditions(), arrangement or Arrangement(), setup or Setup(), [which]
        )
        return found[which]

    return look


@pytest.fixture
def running() -> Arrangement:
    return Arrangement(added=frozenset({"control-held"}), drive="running", thermal="hot")


@pytest.fixture
def pulled() -> Arrangement:
    return Arrangement(added=frozenset({"control-held"}), drive="rope", choke="closed")
