"""Fuel open on one machine is minded at every other machine of the room."""

from __future__ import annotations

import pytest

from firstpull.bench.find import enter, session_of
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.nearby import fuel_beside, fuel_open, may_light, with_room
from firstpull.bench.release import hand_back, return_unmended
from firstpull.bench.shop import Shop


def taken_in(shop: Shop, act: str, machine: str = "walk-mower-ohv") -> str:
    return take_in(shop, Counter("Bram", "0555", "won't start", "60", machine), act_id=act, by="Wren")


def moved(shop: Shop, job: str, item: str, state: str) -> None:
    seen = shop.record(job).last_seq
    enter(shop, job, {"access": item, "state": state}, act_id=f"{job}-{seen}", based_on=seen, by="Wren")


@pytest.mark.parametrize("item", ["fuel", "fuel-hose", "bowl"])
def test_fuel_stands_open_from_the_moment_it_is_opened_until_it_is_closed(shop: Shop, item: str) -> None:
    one, other = taken_in(shop, "in-1"), taken_in(shop, "in-2")
    assert fuel_open(shop) == ()
    moved(shop, one, item, "off")
    assert [beside.job for beside in fuel_beside(shop, other)] == [one]
    assert fuel_beside(shop, one) == ()
    moved(shop, one, item, "on")
    assert fuel_beside(shop, other) == ()


def test_a_cover_that_holds_no_fuel_is_no_warning(shop: Shop) -> None:
    one, other = taken_in(shop, "in-1"), taken_in(shop, "in-2")
    moved(shop, one, "muffler", "off")
    assert fuel_beside(shop, other) == ()


def test_a_carburettor_put_back_leaves_the_hose_that_came_off_for_it_open(shop: Shop) -> None:
    one, other = taken_in(shop, "in-1"), taken_in(shop, "in-2")
    moved(shop, one, "carburettor", "off")
    moved(shop, one, "carburettor", "on")
    assert [beside.what for beside in fuel_beside(shop, other)] == [("Fuel hose",)]
    moved(shop, one, "fuel-hose", "on")
    assert fuel_beside(shop, other) == ()


def test_a_machine_that_went_home_is_in_the_room_no_more(shop: Shop) -> None:
    one, other = taken_in(shop, "in-1"), taken_in(shop, "in-2")
    moved(shop, one, "bowl", "off")
    return_unmended(shop, one, "declined", act_id="r", based_on=shop.record(one).last_seq, by="Wren")
    assert fuel_beside(shop, other) != ()
    hand_back(shop, one, "Bram", "none", act_id="h", based_on=shop.record(one).last_seq, by="Wren")
    assert fuel_beside(shop, other) == ()


def test_what_sparks_or_runs_may_light_it_and_a_feeler_gauge_may_not(shop: Shop) -> None:
    job = taken_in(shop, "in-1")
    session = session_of(shop, shop.record(job))
    spark = {"kind": "check", "id": "spark-at-tester", "with": {"drive": "rope"}}
    assert may_light(session, spark)
    assert may_light(session, {"kind": "check", "id": "will-not-start"})
    assert may_light(session, {"kind": "stop", "id": "release"})
    assert not may_light(session, {"kind": "check", "id": "coil-gap"})
    assert not may_light(session, {"kind": "repair", "id": "renew-plug"})


def test_the_warning_comes_before_every_other_caution_of_the_step(shop: Shop) -> None:
    one, other = taken_in(shop, "in-1"), taken_in(shop, "in-2")
    moved(shop, one, "fuel-hose", "off")
    own = {"id": "x", "text": "Mind the blade.", "more": "", "danger": True}
    step = {"kind": "check", "id": "will-not-start", "cautions": [own]}
    session = session_of(shop, shop.record(other))
    said = with_room(shop, other, session, step)["cautions"]
    assert said[0]["text"] == "Fuel is open on job 1, Walk mower, overhead valve: fuel hose."
    assert said[1:] == [own]
    still = {**step, "id": "coil-gap"}
    assert with_room(shop, other, session, still)["cautions"] == [own]
