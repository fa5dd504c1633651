"""Predictions kept on disk: the same numbers, no engine run, and never a wrong file."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from firstpull.engine.vocabulary.types import Arrangement, Conditions
from firstpull.reasoning import kept
from firstpull.reasoning.worlds import SHARED, Block, Question, Row, Worlds

PLACE = Arrangement(added=frozenset({"control-held"}), drive="rope")
MACHINES = [(Row(frozenset()), SHARED), (Row(frozenset({"coil-dead"})), SHARED)]


@pytest.fixture
def filled(mower: Worlds) -> Worlds:
    worlds = Worlds(mower.book, Conditions(), 0, 64)
    worlds.values(Question(PLACE, (("gap_mm", 6.0),)), "tester_margin", MACHINES)
    return worlds


def test_what_was_kept_is_taken_up_number_for_number(filled: Worlds, mower: Worlds, tmp_path: Path) -> None:
    kept.save(tmp_path, filled)
    fresh = Worlds(mower.book, Conditions(), 0, 64)
    assert kept.load(tmp_path, fresh)
    assert fresh.predicted.keys() == filled.predicted.keys()
    for spot, rows in filled.predicted.items():
        assert fresh.predicted[spot].keys() == rows.keys()
        assert all(np.array_equal(fresh.predicted[spot][r], v, equal_nan=True) for r, v in rows.items())
    assert fresh.traces == filled.traces


def test_what_was_taken_up_is_not_reckoned_again(
    filled: Worlds, mower: Worlds, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept.save(tmp_path, filled)
    fresh = Worlds(mower.book, Conditions(), 0, 64)
    kept.load(tmp_path, fresh)
    monkeypatch.setattr(Worlds, "_predict", lambda *_: pytest.fail("the engine was asked again"))
    found = fresh.values(Question(PLACE, (("gap_mm", 6.0),)), "tester_margin", MACHINES)
    assert len(found) == 2


@pytest.mark.parametrize("other", [
    {"conditions": Conditions(1500.0, 20.0)}, {"seed": 1}, {"count": 128},
])
def test_another_day_other_draws_or_another_number_have_files_of_their_own(
    filled: Worlds, mower: Worlds, tmp_path: Path, other: dict[str, object]
) -> None:
    kept.save(tmp_path, filled)
    usual: dict[str, object] = {"conditions": Conditions(), "seed": 0, "count": 64}
    assert not kept.load(tmp_path, Worlds(mower.book, **{**usual, **other}))  # type: ignore[arg-type]  # one field changed


@pytest.mark.parametrize("cut", [0, 10, 1000, -1])
def test_a_damaged_file_is_thrown_away_and_harms_nothing(
    filled: Worlds, mower: Worlds, tmp_path: Path, cut: int
) -> None:
    kept.save(tmp_path, filled)
    file = kept.place(tmp_path, filled)
    whole = file.read_bytes()
    file.write_bytes(whole[:cut] if cut >= 0 else whole[:600] + bytes(50) + whole[650:])
    fresh = Worlds(mower.book, Conditions(), 0, 64)
    assert not kept.load(tmp_path, fresh)
    assert not fresh.predicted
    assert not file.exists()


def test_a_folder_that_cannot_be_written_is_no_error(filled: Worlds, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file stands where the folder should be")
    kept.save(tmp_path / "taken", filled)
    assert not kept.load(tmp_path / "elsewhere", filled)


def test_old_files_go_before_the_shelf_grows_without_end(filled: Worlds, tmp_path: Path) -> None:
    for number in range(kept.MOST_FILES + 5):
        (tmp_path / f"old-{number}{kept.ENDING}").write_bytes(b"")
    kept.save(tmp_path, filled)
    assert len(list(tmp_path.iterdir())) == kept.MOST_FILES
    assert kept.place(tmp_path, filled).exists()


def test_draws_of_one_job_stay_out_of_the_file(filled: Worlds, mower: Worlds, tmp_path: Path) -> None:
    parameter = next(iter(filled.touch("tester_margin", PLACE).parameters))
    own = Block({("healthy", parameter, 0): np.full(64, 0.5)})
    before = filled.size
    filled.values(Question(PLACE, (("gap_mm", 6.0),)), "tester_margin", [(Row(frozenset()), own)])
    assert filled.size == before
