"""The examples on the page about own chapters are taken by the handbook that comes with the program."""

from __future__ import annotations

import re
from pathlib import Path

from firstpull.handbook.findings import ChapterGap
from firstpull.handbook.read import check, load

PAGE = Path(__file__).parents[2] / "docs" / "own-chapter.md"


def test_what_the_page_shows_is_a_whole_chapter(tmp_path: Path) -> None:
    examples = re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    change, add, rename = examples
    own = tmp_path / "own.toml"
    own.write_text(add + change + rename, encoding="utf-8")
    assert [str(error) for error in check(own)] == []
    plain, book = load(), load(extra=[own])
    assert book.checks["tug-stop-lead"].system == "own work"
    assert book.faults["plug-fouled"].rate == {**plain.faults["plug-fouled"].rate, "walk-mower-ohv": 90}
    assert book.checks["spark-at-tester"].minutes == 0.7
    assert book.today("fault", "stop-tab-loose") == "stop-tab-bent"


def test_a_fault_without_a_cure_is_missing_and_not_wrong(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    text = PAGE.read_text(encoding="utf-8")
    add = re.findall(r"```toml\n(.*?)```", text, re.DOTALL)[1].partition("[[repair]]")[0]
    own.write_text(add, encoding="utf-8")
    (gap,) = check(own)
    assert isinstance(gap, ChapterGap)
    assert "fault 'stop-tab-bent': no repair cures it" in str(gap)
