"""The list of the erased beside the files."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstpull.base.errors import StorageError
from firstpull.workshop.storage.forgotten import NAME, erased_beside, note_erasure


def test_a_noted_erasure_is_found_in_every_folder_that_still_exists(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    note_erasure([tmp_path / "a", tmp_path / "gone", tmp_path / "a"], "p-1", "2026-04-11")
    note_erasure([tmp_path / "a"], "p-2", "2026-04-12")
    assert erased_beside(tmp_path / "a") == {"p-1": "2026-04-11", "p-2": "2026-04-12"}
    assert erased_beside(tmp_path / "gone") == {}


def test_a_torn_last_line_spoils_nothing_before_and_after_it(tmp_path: Path) -> None:
    note_erasure([tmp_path], "p-1", "2026-04-11")
    with open(tmp_path / NAME, "a", encoding="utf-8") as file:
        file.write('{"person": "p-')
    assert erased_beside(tmp_path) == {"p-1": "2026-04-11"}
    note_erasure([tmp_path], "p-3", "2026-04-13")
    assert erased_beside(tmp_path) == {"p-1": "2026-04-11", "p-3": "2026-04-13"}


def test_a_list_that_cannot_be_read_stops_the_restore(tmp_path: Path) -> None:
    (tmp_path / NAME).write_bytes(b"\xff\xfe\x00broken")
    with pytest.raises(StorageError, match="cannot be read"):
        erased_beside(tmp_path)


def test_an_erasure_that_cannot_be_noted_is_not_made(tmp_path: Path) -> None:
    (tmp_path / NAME).mkdir()
    with pytest.raises(StorageError, match="could not be noted"):
        note_erasure([tmp_path], "p-1", "2026-04-11")
