"""The handbook that comes with the program."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import firstpull
from firstpull.engine.vocabulary import OBSERVABLES, TOKENS
from firstpull.handbook.book import Book
from firstpull.handbook.findings import ChapterGap
from firstpull.handbook.read import SHIPPED, check, load

ROOMS = ("base", "engine", "handbook", "gauges", "safety", "reasoning", "workshop", "season", "paper")
KINDS = ("fault", "check", "repair", "complaint", "told", "caution", "release", "machine")


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


def test_nothing_is_wrong_with_it() -> None:
    assert [str(error) for error in check(SHIPPED) if not isinstance(error, ChapterGap)] == []


def test_no_code_knows_an_entry_by_its_id(book: Book) -> None:
    """An entry can be renamed without touching Python: below the bench no literal is an id of the handbook."""
    ids = {name for kind in KINDS for name in book.shelf(kind) if "-" in name} - set(TOKENS) - set(OBSERVABLES)
    root = Path(str(firstpull.__file__)).parent
    found = [
        f"{path.relative_to(root)}:{node.lineno}: {node.value}"
        for room in ROOMS
        for path in sorted((root / room).rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and node.value in ids
    ]
    assert found == []
