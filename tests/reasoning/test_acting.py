"""Which faults of a state act, against the definition, on the handbook of three faults."""

from __future__ import annotations

from itertools import chain, combinations
from math import prod

import pytest

from firstpull.reasoning.acting import Acting
from tests.reasoning import three_faults
from tests.reasoning.three_faults import DUTY

FAULTS = ("rope", "coil", "boot")
STATES = [frozenset(s) for s in chain.from_iterable(combinations(FAULTS, n) for n in range(4))]


@pytest.fixture(scope="module")
def acting() -> Acting:
    return three_faults.scales().worlds.acting


@pytest.mark.parametrize("state", STATES, ids=lambda s: "+".join(sorted(s)) or "sound")
@pytest.mark.parametrize("hot", [False, True])
def test_heat_wakes_the_boot_and_the_coil_sleeps_now_and_then(
    acting: Acting, state: frozenset[str], hot: bool
) -> None:
    for _ in range(2):  # the second time it is remembered
        assert acting.active(state, hot) == state - (frozenset() if hot else {"boot"})
        assert acting.steady(state, hot) == acting.active(state, hot) - {"coil"}
        assert acting.duty(state) == pytest.approx(prod([DUTY] * ("coil" in state)))
