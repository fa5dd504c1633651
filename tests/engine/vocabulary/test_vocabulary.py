"""The words of the engine."""

from __future__ import annotations

import re

import numpy as np
import pytest

from firstpull.base.errors import FirstpullError
from firstpull.base.quantity import UNITS
from firstpull.engine import vocabulary
from firstpull.engine.machine import RULES
from firstpull.engine.predict import predict  # registers the rules
from firstpull.engine.vocabulary.types import Observable, Parameter, Setup, Size

_ENTRIES: list[Parameter | Observable | Size] = [
    *vocabulary.PARAMETERS.values(), *vocabulary.OBSERVABLES.values(), *vocabulary.SIZES.values(),
]  # fmt: skip


def test_every_entry_has_a_plain_name_a_known_unit_and_a_meaning() -> None:
    for entry in _ENTRIES:
        assert re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", entry.id), entry.id
        assert entry.unit in UNITS, entry.id
        assert entry.meaning, entry.id


def test_every_parameter_says_where_its_spread_comes_from() -> None:
    for parameter in vocabulary.PARAMETERS.values():
        assert parameter.source.strip(), parameter.id
        assert parameter.system, parameter.id


def test_healthy_machines_lie_within_the_bounds_of_each_parameter() -> None:
    shares = np.array([1e-6, 0.01, 0.5, 0.99, 1.0 - 1e-6])
    for parameter in vocabulary.PARAMETERS.values():
        assert parameter.low < parameter.high, parameter.id
        drawn = parameter.healthy.quantile(shares)
        assert (drawn >= parameter.low).all(), parameter.id
        assert (drawn <= parameter.high).all(), parameter.id


def test_every_word_of_a_size_is_one_of_its_choices() -> None:
    for size in vocabulary.SIZES.values():
        if size.choices:
            assert size.default in size.choices, size.id
        else:
            assert not isinstance(size.default, str), size.id


def test_every_observable_has_a_rule() -> None:
    assert callable(predict)
    assert not sorted(set(vocabulary.OBSERVABLES) - set(RULES))


def test_a_name_is_given_once_only() -> None:
    twice = [Observable("crank_rpm", "rpm", "once"), Observable("crank_rpm", "rpm", "and again")]
    with pytest.raises(FirstpullError, match="two entries named 'crank_rpm'"):
        vocabulary._gather("observables", twice)


def test_tokens_tell_what_is_off_from_what_is_added() -> None:
    assert not vocabulary.TOKENS["stop-lead"].added
    assert vocabulary.TOKENS["control-held"].added


def test_a_set_up_gives_its_number_or_the_usual_one() -> None:
    setup = Setup({"tester_gap_mm": 6.0})
    assert setup.get("tester_gap_mm", 4.2) == 6.0
    assert setup.get("tester_tip", 0.75) == 0.75
