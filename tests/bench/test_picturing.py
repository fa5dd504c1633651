"""Pictures are kept once, shown while they are not taken away, and only with their own job."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.find import undo
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.picturing import keep_picture, picture_bytes, pictures_of
from firstpull.bench.shop import Shop
from tests.bench.test_picture_facts import made


@pytest.fixture
def plain(shop: Shop) -> str:
    """A job whose kind of machine nobody said yet."""
    return take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in-1", by="Wren")


def test_a_picture_is_kept_once_and_can_be_taken_away(shop: Shop, plain: str) -> None:
    for _ in range(2):
        keep_picture(shop, plain, made("JPEG"), " the torn hose ", act_id="p", based_on=1, by="Wren")
    (one,) = pictures_of(shop.record(plain))
    assert one.caption == "the torn hose"
    data, type_ = picture_bytes(shop, plain, one.hash)
    assert (data[:3], type_) == (b"\xff\xd8\xff", "image/jpeg")
    undo(shop, plain, one.act, act_id="u", based_on=2, by="Wren")
    assert pictures_of(shop.record(plain)) == ()
    with pytest.raises(InputError):
        picture_bytes(shop, plain, one.hash)


def test_a_picture_is_not_shown_with_another_job(shop: Shop, plain: str) -> None:
    other = take_in(shop, Counter("Bram", "0555", "won't start", "90", ""), act_id="in-2", by="Wren")
    keep_picture(shop, plain, made("PNG"), act_id="p", based_on=1, by="Wren")
    (one,) = pictures_of(shop.record(plain))
    with pytest.raises(InputError):
        picture_bytes(shop, other, one.hash)


def test_pictures_are_forgotten_with_their_owner(shop: Shop, plain: str) -> None:
    keep_picture(shop, plain, made("PNG"), act_id="p", based_on=1, by="Wren")
    (one,) = pictures_of(shop.record(plain))
    shop.store.erase_person(shop.record(plain).person, by="Wren", at="2026-04-11T12:00:00Z")
    assert shop.store.get_blob(one.hash) is None
