"""A book is known by its content, not by its files."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import Any

import pytest

from firstpull.base.errors import ManyErrors
from firstpull.handbook.book import SHELVES
from firstpull.handbook.entries import Chapter
from firstpull.handbook.pages import render
from firstpull.handbook.read import load
from firstpull.handbook.schema import MODELS


def test_the_order_of_files_entries_and_keys_does_not_change_a_book(shelf: Any) -> None:
    one = load(shelf.write())
    text = (shelf.small / "all.toml").read_text()
    head, *parts = text.split("\n[[")
    tables = ["[[" + part for part in parts]
    entries: list[str] = []
    for table in tables:  # tables of an entry stay with it
        inner = "." in table.partition("]]")[0]
        entries = [*entries[:-1], entries[-1] + "\n" + table] if inner else [*entries, table]
    swapped = "\n".join(reversed(entries)).replace("{ default = 8, mower = 10 }", "{ mower = 10.0, default = 8 }")
    (shelf.small / "all.toml").write_text(head + "\n# a remark\n" + swapped)
    two = load(shelf.small)
    assert two == one
    assert hash(two) == hash(one)
    assert list(two.checks) == list(one.checks)


def test_every_change_of_content_changes_the_hash(shelf: Any) -> None:
    swaps = [
        ("10 }", "11 }"),
        ("Pull.", "Pull hard."),
        ("tries", "tries"),
        ("scatter = 0.1", "scatter = 0.2"),
    ]
    hashes = {load(shelf.write()).hash}
    for old, new in swaps[:2] + swaps[3:]:
        hashes.add(load(shelf.write((old, new))).hash)
    assert len(hashes) == 4


def test_a_book_travels_to_another_process_whole(shelf: Any) -> None:
    book = load(shelf.write())
    other = pickle.loads(pickle.dumps(book))
    assert other == book
    assert other.faults["lead-chafed"] == book.faults["lead-chafed"]


def test_every_kind_of_entry_has_a_shelf(shelf: Any) -> None:
    book = load(shelf.write())
    assert set(SHELVES) == set(MODELS)
    assert set(MODELS) == set(Chapter.model_fields) - {"system", "about"}
    for kind in SHELVES:
        assert all(name == getattr(entry, "id", None) for name, entry in book.shelf(kind).items())


def test_names_and_cautions_are_told_in_words(shelf: Any) -> None:
    more = '\n[[caution]]\nid = "a-note"\ntext = "Wear gloves."\ndanger = false\nsource = "judgement"\n'
    book = load(shelf.write(add=more))
    assert book.name("fault", "lead-chafed") == "Stop lead chafed"
    assert book.name("fault", "long-gone") == "long-gone"
    shock = "The lead can shock: hold the tester by its body."
    assert book.texts(["a-note", "shock", "a-note", "long-gone"]) == (shock, "Wear gloves.")
    assert book.systems == ("ignition",)


def test_the_plainest_drive_comes_first(shelf: Any) -> None:
    way = '\n[[drive]]\nid = "{}"\nname = "x"\ndrive = "{}"\nsource = "judgement"\n'
    book = load(shelf.write(add=way.format("a-starter", "starter") + way.format("b-drill", "drill")))
    assert [drive.id for drive in book.drives] == ["rope", "b-drill", "a-starter"]


RETIRED = """
[[retired]]
id = "lead-worn"
kind = "fault"
becomes = "lead-rubbed"
since = "0.2"
[[retired]]
id = "lead-rubbed"
kind = "fault"
becomes = "lead-chafed"
since = "0.3"
[[retired]]
id = "magic"
kind = "check"
since = "0.3"
"""


def test_an_old_id_leads_to_the_entry_of_today(shelf: Any) -> None:
    book = load(shelf.write(add=RETIRED))
    assert book.today("fault", "lead-chafed") == "lead-chafed"
    assert book.today("fault", "lead-worn") == "lead-chafed"
    assert book.today("check", "lead-worn") is None
    assert book.today("check", "magic") is None
    assert book.today("check", "never-was") is None
    assert 'href="fault-lead-chafed.html"' in render(book)["retired-lead-worn.html"]


def test_an_id_is_never_used_again_and_leads_somewhere(refusal: Callable[..., str]) -> None:
    again = RETIRED.replace('id = "magic"', 'id = "spark"')
    assert "'spark' is a check again (a new id; old jobs mean the old entry)" in refusal(add=again)
    nowhere = '[[retired]]\nid = "x"\nkind = "fault"\nbecomes = "lead-chafd"\nsince = "1"\n'
    assert "'lead-chafd' is not a fault (did you mean 'lead-chafed'?)" in refusal(add=nowhere)


def test_old_ids_that_lead_to_each_other_are_both_refused(shelf: Any) -> None:
    circle = RETIRED.replace('becomes = "lead-chafed"', 'becomes = "lead-worn"')
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write(add=circle))
    assert [error.what for error in caught.value.errors] == [
        "'lead-rubbed' is not a fault",
        "'lead-worn' is not a fault",
    ]
