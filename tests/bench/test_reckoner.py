"""What pages may ask of the workers is what the pool of workers does."""

from __future__ import annotations

import inspect

import pytest

from firstpull.bench.reckoner import Reckoner
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool

ASKED = sorted(name for name, value in vars(Reckoner).items() if not name.startswith("_") and callable(value))


def as_reckoner(pool: Pool) -> Reckoner:
    return pool  # the type checker holds the pool to what is asked


@pytest.mark.parametrize("name", ASKED)
def test_the_pool_takes_what_is_asked_by_the_same_names(name: str) -> None:
    wanted, given = (inspect.signature(getattr(kind, name)).parameters for kind in (Reckoner, Pool))
    assert list(wanted) == list(given)


def test_a_shop_reckons_where_it_is_asked_until_there_are_workers() -> None:
    assert len(ASKED) == 9
    assert {f.default for f in Shop.__dataclass_fields__.values() if f.name == "pool"} == {None}
