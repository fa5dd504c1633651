"""A word never means two things: no id stands for entries of two kinds, and a told share stays a share."""

from __future__ import annotations

import pytest

from firstpull.handbook.book import Book
from firstpull.handbook.read import load

KINDS = ("fault", "check", "repair", "access", "complaint", "told", "instrument", "caution", "release", "machine")
MOST_TOLD = 0.97


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


def test_no_id_stands_for_two_kinds(book: Book) -> None:
    kinds: dict[str, list[str]] = {}
    for kind in KINDS:
        for name in book.shelf(kind):
            kinds.setdefault(name, []).append(kind)
    assert {name: found for name, found in kinds.items() if len(found) > 1} == {}


def test_a_fault_tells_of_itself_at_most_nearly_always(book: Book) -> None:
    told = [(f.id, fact, book.told[fact].common * more) for f in book.faults.values() for fact, more in f.told.items()]
    assert [entry for entry in told if entry[2] > MOST_TOLD] == []


def test_old_ids_lead_to_the_new_ones(book: Book) -> None:
    for old in book.retired.values():
        assert old.becomes is None or old.becomes in book.shelf(old.kind)
