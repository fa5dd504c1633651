"""Pictures are kept once, shown while they are not taken away, and only with their own job."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.find import undo
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.picturing import (
    LARGEST_ON_PAPER,
    MOST_ON_PAPER,
    keep_picture,
    mark_for_owner,
    picture_bytes,
    pictures_for_owner,
    pictures_of,
)
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


def kept(shop: Shop, job: str, act: str, data: bytes) -> str:
    """A picture kept with a job; the act that brought it."""
    keep_picture(shop, job, data, f"words of {act}", act_id=act, based_on=1, by="Wren")
    return act


def mark(shop: Shop, job: str, photo: str, shown: bool = True) -> None:
    """Put a picture on the owner's sheet, or take it off."""
    act = f"mark-{photo}-{shown}-{shop.record(job).last_seq}"
    mark_for_owner(shop, job, photo, shown, act_id=act, based_on=1, by="Wren")


def test_pictures_marked_for_the_owner_come_in_the_order_they_were_taken_until_they_are_left_off(
    shop: Shop, plain: str
) -> None:
    for act in ("p1", "p2", "p3"):
        kept(shop, plain, act, made("JPEG"))
    mark(shop, plain, "p3")
    mark(shop, plain, "p1")
    assert [p.act for p, _ in pictures_for_owner(shop, shop.record(plain))] == ["p1", "p3"]
    mark(shop, plain, "p3", shown=False)
    (only,) = pictures_for_owner(shop, shop.record(plain))
    assert only[0].caption == "words of p1"
    assert only[1].startswith(b"\xff\xd8\xff")
    undo(shop, plain, "p1", act_id="u", based_on=9, by="Wren")
    assert pictures_for_owner(shop, shop.record(plain)) == ()


def test_what_is_not_fit_for_paper_is_refused_and_stays_a_picture_of_the_job(shop: Shop, plain: str) -> None:
    whole = made("JPEG")
    kept(shop, plain, "png", made("PNG"))
    kept(shop, plain, "heavy", whole + b"\x00" * LARGEST_ON_PAPER)
    kept(shop, plain, "torn", whole[:20] + b"\xff\xda\x00\x02" + b"x" * 50)
    for act in ("png", "heavy", "torn", "nobody's"):
        with pytest.raises(InputError):
            mark(shop, plain, act)
    assert len(pictures_of(shop.record(plain))) == 3
    assert pictures_for_owner(shop, shop.record(plain)) == ()


def test_the_sheet_takes_so_many_pictures_and_no_more(shop: Shop, plain: str) -> None:
    for place in range(MOST_ON_PAPER + 1):
        kept(shop, plain, f"p{place}", made("JPEG"))
    for place in range(MOST_ON_PAPER):
        mark(shop, plain, f"p{place}")
    with pytest.raises(InputError, match="already"):
        mark(shop, plain, f"p{MOST_ON_PAPER}")
    mark(shop, plain, "p0")
    mark(shop, plain, "p0", shown=False)
    mark(shop, plain, f"p{MOST_ON_PAPER}")
    assert len(pictures_for_owner(shop, shop.record(plain))) == MOST_ON_PAPER
