"""One population for a class, a kind of day and a size, made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstpull.base.errors import ManyErrors
from firstpull.bench.worldroom import WorldRoom, bucketed, open_room
from firstpull.engine.vocabulary.types import Conditions


def test_days_in_one_bucket_share_their_population_and_others_do_not(room: WorldRoom) -> None:
    usual = room.worlds("tiller", Conditions(0.0, 20.0))
    assert room.worlds("tiller", Conditions(110.0, 21.9)) is usual
    assert room.worlds("tiller", Conditions(140.0, 20.0)) is not usual
    assert room.worlds("tiller", Conditions(0.0, 23.0)) is not usual


def test_a_bucket_is_named_by_its_middle() -> None:
    assert bucketed(Conditions(130.0, 18.0)) == Conditions(250.0, 20.0)


def test_more_effort_never_means_fewer_machines(room: WorldRoom) -> None:
    counts = [room.worlds("tiller", Conditions(), effort).count for effort in (-1, 1, 2, 3, 4, 99)]
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]


def test_a_folder_that_is_not_there_adds_no_chapter(room: WorldRoom, tmp_path: Path) -> None:
    assert open_room(tmp_path / "none").book.hash == room.book.hash


def test_a_broken_chapter_is_refused_with_file_and_line(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text('[[fault]]\nid = "a-fault"\ncolour = "red"\n', encoding="utf-8")
    with pytest.raises(ManyErrors, match=r"own\.toml:3"):
        open_room(tmp_path)
