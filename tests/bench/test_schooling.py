"""The setting of a school."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.schooling import HAZARDS, SCHOOL_KEY, keep_school, propose, school_of, waits_for
from firstpull.bench.shop import Shop
from firstpull.bench.wiring import open_shop
from firstpull.bench.worldroom import WorldRoom
from firstpull.handbook.entries import Check


@pytest.fixture
def shop(tmp_path: Path, room: WorldRoom) -> Iterator[Shop]:
    found = open_shop(tmp_path)
    found.room = room
    yield found
    found.store.close()


def test_every_hazard_of_the_handbook_can_wait() -> None:
    assert set(get_args(Check.model_fields["hazard"].annotation)) == {*HAZARDS, "none"}


def test_a_workshop_is_no_school_until_it_says_so_and_then_everything_waits(shop: Shop) -> None:
    assert not school_of(shop).on
    shop.store.put_setting(SCHOOL_KEY, {"on": True})
    assert school_of(shop).waits == frozenset(HAZARDS)
    keep_school(shop, True, ["fuel"])
    assert school_of(shop).waits == {"fuel"}


def test_a_setting_that_cannot_be_read_lets_nothing_go(shop: Shop) -> None:
    shop.store.put_setting(SCHOOL_KEY, "yes")
    assert school_of(shop).on
    assert school_of(shop).waits == frozenset(HAZARDS)


def test_only_hazards_that_were_named_wait(shop: Shop) -> None:
    keep_school(shop, True, ["fuel"])
    checks = shop.room.book.checks.values()
    fuel, other = (next(c.id for c in checks if (c.hazard == "fuel") == is_fuel) for is_fuel in (True, False))
    assert waits_for(shop, {"check": fuel}) == "fuel"
    assert waits_for(shop, {"check": other}) == ""
    with pytest.raises(InputError, match="no hazard"):
        keep_school(shop, True, ["moonlight"])


def test_nothing_outside_the_handbook_is_asked_for(shop: Shop) -> None:
    with pytest.raises(InputError, match="no check or repair"):
        propose(shop, "1", "fly", act_id="a", based_on=0, by="Tam")
