"""Where a workshop's data lie, and what is said when they cannot."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstpull.base.errors import FirstpullError, StorageError
from firstpull.bench.wiring import DATA_VARIABLE, DATABASE_VARIABLE, data_folder, open_shop


def test_a_given_folder_goes_before_the_environment_and_that_before_the_usual(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(DATA_VARIABLE, str(tmp_path / "named"))
    assert data_folder(tmp_path / "given") == tmp_path / "given"
    assert data_folder() == tmp_path / "named"
    monkeypatch.delenv(DATA_VARIABLE)
    monkeypatch.setenv("HOME", str(tmp_path))
    assert data_folder().is_relative_to(tmp_path)


def test_a_missing_folder_is_made_with_a_record_in_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(DATABASE_VARIABLE, raising=False)
    shop = open_shop(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b" / "record.sqlite").is_file()
    assert not shop.demo
    shop.store.close()


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    for folder in (tmp_path / "file", tmp_path / "file" / "below"):
        with pytest.raises(StorageError, match=str(folder)):
            open_shop(folder)


def test_a_broken_own_chapter_keeps_the_workshop_shut_and_the_record_untouched(tmp_path: Path) -> None:
    (tmp_path / "chapters").mkdir()
    (tmp_path / "chapters" / "own.toml").write_text("[[fault]]\nid = 3\n", encoding="utf-8")
    with pytest.raises(FirstpullError, match=r"own\.toml"):
        open_shop(tmp_path)
    assert not (tmp_path / "record.sqlite").exists()


def test_a_record_that_is_none_is_named(tmp_path: Path) -> None:
    (tmp_path / "record.sqlite").write_text("these are not the tables of a record", encoding="utf-8")
    with pytest.raises(StorageError, match=r"record\.sqlite"):
        open_shop(tmp_path)
