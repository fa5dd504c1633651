"""The shop's own units and blades."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError
from firstpull.base.quantity import convert
from firstpull.bench.own_units import blades, first_unit, keep_units, own_units, strip_in
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip, StripRow

GAP = Strip("gap", "Gap", "mm", ("in range", "wide"), ((0.5, "in range", "wide"),), (60, 40), (0.0, 0.8),
            (0.0, 0.2, 0.4, 0.6, 0.8), (StripRow(0, "Healthy machine", (0.1, 0.2, 0.25, 0.3, 0.4), (90, 10), 0),),
            mark=0.3)


def test_blades_are_read_in_any_unit_and_kept_in_order_once(shop: Shop) -> None:
    keep_units(shop, {"length": "thou"}, "0.25, 10 thou, 0.1; 0.30mm")
    assert blades(shop) == (0.1, 0.25, 0.254, 0.3)
    assert own_units(shop) == {"length": "thou"}


def test_what_cannot_be_read_keeps_nothing(shop: Shop) -> None:
    keep_units(shop, {"pressure": "bar"}, "0.2")
    for units, words in (({"pressure": "thou"}, ""), ({}, "thin"), ({}, "0.2 psi"), ({}, "-1"), ({}, "40"),
                         ({"mood": "psi"}, ""), ({}, ",".join(["0.1"] * 99))):
        with pytest.raises(FirstpullError):
            keep_units(shop, units, words)
    assert own_units(shop) == {"pressure": "bar"}
    assert blades(shop) == (0.2,)


def test_without_a_choice_the_unit_of_the_handbook_stands_first() -> None:
    assert first_unit({}, "kPa") == "kPa"
    assert first_unit({"pressure": "psi"}, "kPa") == "psi"
    assert first_unit({"pressure": "psi"}, "mm") == "mm"
    assert first_unit({"pressure": "psi"}, "pulls") == "pulls"


@given(st.sampled_from(["mm", "thou", "in", "um"]))
def test_a_strip_in_another_unit_shows_the_same_lengths(target: str) -> None:
    other = strip_in(GAP, target)
    assert other.unit == target
    assert other.mark is not None
    assert convert(other.mark, target, "mm") == pytest.approx(0.3)
    assert convert(other.limits[0][0], target, "mm") == pytest.approx(0.5)
    assert [convert(x, target, "mm") for x in other.rows[0].spread] == pytest.approx(list(GAP.rows[0].spread))
    assert 2 <= len(other.ticks) <= 7
    assert all(other.axis[0] - 1e-9 <= tick <= other.axis[1] + 1e-9 for tick in other.ticks)
