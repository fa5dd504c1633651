"""The handbook as lists, and what is wrong with a chapter."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.catalogue import KINDS, listing, problems
from firstpull.handbook.book import Book
from firstpull.handbook.read import SHIPPED


@pytest.mark.parametrize("kind", KINDS)
def test_every_entry_of_every_kind_has_id_name_system_and_numbers(book: Book, kind: str) -> None:
    found = listing(book, kind)
    assert len(found) > 5
    assert len({e["id"] for e in found}) == len(found)
    for entry in found:
        assert entry["id"]
        assert entry["name"]
        assert isinstance(entry["system"], str)
        assert isinstance(entry["numbers"], list)
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_faults_checks_and_repairs_belong_to_a_system(book: Book) -> None:
    for kind in ("faults", "checks", "repairs"):
        assert all(e["system"] for e in listing(book, kind))


def test_a_check_says_its_outcomes_unit_arrangement_and_instrument(book: Book) -> None:
    checks = {c["id"]: c for c in listing(book, "checks")}
    spark = checks["spark-at-tester"]
    assert spark["outcomes"] == ["dark", "lights"]
    assert spark["unit"] is None
    assert spark["arrangement"]["needs"]["on"] == ["tester-on-lead"]
    assert spark["instrument"] in book.instruments
    assert checks["compression-dry"]["unit"] == "kPa"
    assert [r["key"] for r in checks["leak-down"]["readings"]] == ["loss", "hiss"]
    assert all(c["outcomes"] and c["instrument"] and c["arrangement"] for c in checks.values())


def test_a_machine_says_its_traits(book: Book) -> None:
    for machine in listing(book, "machines"):
        assert machine["traits"]["cycle"] in ("two-stroke", "four-stroke")


def test_the_numbers_are_those_of_the_coverage_list(book: Book) -> None:
    faults = [n for e in listing(book, "faults") for n in e["numbers"]]
    checks = [n for e in listing(book, "checks") for n in e["numbers"]]
    assert faults
    assert all(n[0] == "F" and len(n) == 4 for n in faults)
    assert checks
    assert all(n[0] == "K" and len(n) == 3 for n in checks)


def test_an_unknown_kind_is_refused_with_those_there_are(book: Book) -> None:
    with pytest.raises(InputError, match="faults, checks"):
        listing(book, "fautls")


GOOD = '[[fault]]\nid = "plug-fouled"\nrate = { "walk-mower-ohv" = 90 }\n'
WRONG = (
    '[[fault]]\nid = "plug-fouled"\ncolour = "red"\n\n'
    '[[fault]]\nid = "coil-dead"\nrate = { "walk-mowr" = 90 }\n'
)


def test_a_chapter_of_ones_own_is_checked_over_the_shipped_handbook(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text(GOOD, encoding="utf-8")
    assert problems(own)[0] == []
    own.write_text(WRONG, encoding="utf-8")
    wrong, _ = problems(own)
    assert {f"{own}:3", f"{own}:7"} <= {e.where.split(": ")[0] for e in wrong}


def test_the_chapters_folder_of_a_workshop_is_checked_as_the_workshop_would_read_it(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(GOOD, encoding="utf-8")
    assert problems(tmp_path) == ([], [])
    (tmp_path / "other.toml").write_text(WRONG, encoding="utf-8")
    assert len(problems(tmp_path)[0]) >= 2


def test_what_is_only_missing_is_told_apart_from_what_is_wrong() -> None:
    wrong, missing = problems(SHIPPED)
    assert not {str(e) for e in wrong} & {str(e) for e in missing}


def test_a_path_with_nothing_at_it_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        problems(tmp_path / "none.toml")
    assert "no chapter" in str(problems(tmp_path)[0][0])
    (tmp_path / "own.toml").write_bytes(b"\xff")
    assert "UTF-8" in str(problems(tmp_path / "own.toml")[0][0])
