"""The workshop without the people: the work is all there, no name, number or address is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from firstpull.base.errors import RefusedError
from firstpull.bench.approving import approve
from firstpull.bench.find import note
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.veiling import INSTEAD, veiled, without_names
from firstpull.bench.wiring import open_shop
from firstpull.bench.worldroom import WorldRoom


@pytest.fixture
def shop(tmp_path: Path, room: WorldRoom) -> Iterator[Shop]:
    found = open_shop(tmp_path)
    found.room = room
    yield found
    found.store.close()


@pytest.fixture
def job(shop: Shop) -> str:
    said = Counter("Ada Fenwright", "0555 0101", "won't start, ring Ada on 0555 0199", "90", "")
    found = take_in(shop, said, act_id="in-1", by="Wren")
    words = "Mrs Fenwright says it sat all winter; mail ada@harrow.example"
    note(shop, found, words, act_id="n", based_on=1, by="Wren")
    approve(shop, found, "find", "Bo Fenwright", "95", "by telephone", act_id="a", based_on=2, by="Wren")
    return found


def test_no_event_holds_a_name_or_a_number_and_the_rest_is_there(shop: Shop, job: str) -> None:
    record = veiled(shop).record(job)
    text = repr([dict(e.body) for e in record.events])
    for secret in ("Ada", "Fenwright", "0555", "0101", "0199", "ada@", "Bo "):
        assert secret not in text
    assert "sat all winter" in text
    assert record.approvals[0].body["who"] == INSTEAD
    assert record.approvals[0].body["to"] == "find"
    assert record.spending_limit == shop.record(job).spending_limit
    assert "Ada" in repr([dict(e.body) for e in shop.record(job).events])


def test_nobody_is_known_and_nobody_is_found(shop: Shop, job: str) -> None:
    store = veiled(shop).store
    assert store.get_person(shop.record(job).person) is None
    assert store.find_people("Ada") == ()
    assert store.search("Fenwright") == store.search("0555") == ()
    assert [line.job for line in store.search("winter")] == [job]


def test_what_is_done_through_the_veil_is_kept_whole(shop: Shop, job: str) -> None:
    note(veiled(shop), job, "Ada was rung", act_id="n2", based_on=3, by="Tam")
    assert shop.record(job).notes[-1].body["text"] == "Ada was rung"
    assert "Ada" not in repr(veiled(shop).record(job).notes[-1])


def test_what_the_veiled_shop_changes_the_open_one_sees(shop: Shop) -> None:
    before = shop._times_forgotten
    veiled(shop).forget_live()
    assert shop._times_forgotten == before + 1


@pytest.mark.parametrize("name", ["backup", "export_lines", "export_csv", "restore", "salvage", "erase_person"])
def test_the_whole_record_does_not_pass_the_veil(shop: Shop, name: str) -> None:
    with pytest.raises(RefusedError, match="bench screen"):
        getattr(veiled(shop).store, name)


@given(some.from_regex(r"\+?([0-9][ ()/.-]?){7,12}", fullmatch=True))
def test_whatever_looks_like_a_telephone_number_goes(number: str) -> None:
    found = without_names(f"ring {number} today", ())
    assert not any(sign.isdigit() for sign in found)


def test_gaps_and_years_stay() -> None:
    words = "gap 0.25 mm, filled 2023, 62 psi, 3.0 s"
    assert without_names(words, ("Ada",)) == words
