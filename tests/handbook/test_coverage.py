"""Every fault and check of the coverage page has an entry, and the page names exactly the entries that say so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from firstpull.handbook.book import Book
from firstpull.handbook.read import load

PAGE = Path(__file__).resolve().parents[2] / "docs" / "coverage.md"
LINE = re.compile(r"^- \*\*(?P<number>[FK]\d+)\*\* .+?: (?P<entries>(?:faults|checks|repairs|access) `.+)$")
SHELVES = ("faults", "checks", "repairs", "access", "complaints", "told")
NUMBERS = [*(f"F{n:03d}" for n in range(1, 122)), *(f"K{n:02d}" for n in range(1, 85))]
# Practices that the bench walk found dangerous; what is done instead.
REPLACED = {"K40": "soap-manifold", "K42": "part-choke-response", "K59": "leak-down", "K63": "run-without-screen"}


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


@pytest.fixture(scope="module")
def page() -> dict[str, dict[str, list[str]]]:
    return read_page(PAGE.read_text(encoding="utf-8"))


def read_page(text: str) -> dict[str, dict[str, list[str]]]:
    """Entry ids by shelf, by number, as the page names them."""
    found: dict[str, dict[str, list[str]]] = {}
    for line in text.splitlines():
        match = LINE.match(line)
        if match is None:
            assert not line.startswith("- "), f"not a line of the list: {line}"
            continue
        assert match["number"] not in found, f"{match['number']} stands there twice"
        parts = (part.split(" ", 1) for part in match["entries"].split("; "))
        found[match["number"]] = {word: re.findall(r"`([^`]+)`", names) for word, names in parts}
    return found


def said_by(book: Book, number: str) -> dict[str, list[str]]:
    """Entry ids by shelf, as the entries themselves say."""
    shelves = {word: getattr(book, word) for word in SHELVES}
    said = {word: [i for i, e in shelf.items() if number in e.numbers] for word, shelf in shelves.items()}
    return {word: ids for word, ids in said.items() if ids}


@pytest.mark.parametrize("number", NUMBERS)
def test_a_number_has_an_entry_of_its_kind(book: Book, number: str) -> None:
    said = said_by(book, number)
    assert said.get("faults" if number.startswith("F") else "checks"), f"nothing matches {number}"


def test_the_page_has_one_line_for_each_number_in_order(page: dict[str, dict[str, list[str]]]) -> None:
    assert list(page) == NUMBERS


@pytest.mark.parametrize("number", NUMBERS)
def test_the_page_names_exactly_the_entries_that_carry_the_number(
    book: Book, page: dict[str, dict[str, list[str]]], number: str
) -> None:
    assert page[number] == said_by(book, number)


def test_no_entry_carries_a_number_that_does_not_exist(book: Book) -> None:
    carried = {n for word in SHELVES for entry in getattr(book, word).values() for n in entry.numbers}
    assert carried <= set(NUMBERS)


@pytest.mark.parametrize(("number", "instead"), sorted(REPLACED.items()))
def test_a_dangerous_practice_is_named_with_what_takes_its_place(book: Book, number: str, instead: str) -> None:
    line = next(li for li in PAGE.read_text(encoding="utf-8").splitlines() if f"**{number}**" in li)
    assert "is not in this handbook" in line
    assert f"`{instead}`" in line
    assert number in book.checks[instead].numbers


@pytest.mark.parametrize("number", sorted(REPLACED))
def test_what_takes_its_place_runs_with_nothing_off_but_the_screen(book: Book, number: str) -> None:
    for check in book.checks.values():
        if number in check.numbers and check.runs:
            assert set(check.needs.off) <= {"spark-screen", "tester-on-lead"}
            assert not {"rocker-cover", "muffler", "cover", "guard"} & set(check.wants.off)


def test_only_the_locked_repair_brings_lost_magnetism_back(book: Book) -> None:
    cures = [r for r in book.repairs.values() if "residual-lost" in r.cures]
    assert cures
    for repair in cures:
        assert repair.locked
        assert "inverter" not in repair.only["generator_kind"]


def test_live_checks_are_taken_at_the_outlet_with_the_cover_on(book: Book) -> None:
    for check in book.checks.values():
        if check.runs and check.hazard == "mains":
            assert "end-cover" in check.needs.on
            assert "mains-one-hand" in check.cautions
