"""A book is known by its content, not by its files."""

from __future__ import annotations

import pickle
from typing import Any

from firstpull.handbook.book import SHELVES
from firstpull.handbook.entries import Chapter
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
