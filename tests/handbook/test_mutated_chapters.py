"""Shipped chapters as a tired hand, a bad disk or another program may leave them: told, and never a crash."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from firstpull.cli.handbook import handbook
from firstpull.handbook.findings import ChapterGap
from firstpull.handbook.read import SHIPPED, check

CHAPTERS = sorted(p.relative_to(SHIPPED) for p in SHIPPED.rglob("*.toml"))
FUZZ = settings(
    max_examples=6, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
VALUES = [
    "1", "-1", "0", "nan", "-inf", "1e308", "99999999999999999999999", "true", '""', '"x"', '"no-such-id"', "[]",
    "[[]]", "{}", "1979-05-27", "07:32:00", '["x", 1]', "{ from = 1 }", "{ low = 9, high = 1 }", '"\\u0000"',
    '"' + "long " * 2000 + '"',
]
KEYS = ["id", "name", "reads", "draws", "rate", "needs", "minutes", "x", "a.b", "only", "cures", "proof", '"a b"']
TABLES = ["[[fault]]", "[[check.reading]]", "[repair]", "[[machine]]", "[[x]]"]


@st.composite
def lines_changed(draw: st.DrawFn, text: str) -> str:
    """A few lines with another value or key, lost, doubled, cut off, moved, or with a table of another kind before."""
    lines = text.splitlines()
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        key, equals, value = lines[at].partition(" = ")
        how = draw(st.sampled_from(["value", "key", "lose", "double", "cut", "move", "table", "other id"]))
        if how == "value" and equals:
            lines[at] = f"{key} = {draw(st.sampled_from(VALUES))}"
        elif how == "key" and equals:
            lines[at] = f"{draw(st.sampled_from(KEYS))} = {value}"
        elif how == "lose" and len(lines) > 1:
            del lines[at]
        elif how == "double":
            lines.insert(at, lines[at])
        elif how == "cut":
            lines[at] = lines[at][: draw(st.integers(0, len(lines[at])))]
        elif how == "move":
            lines.insert(draw(st.integers(0, len(lines) - 1)), lines.pop(at))
        elif how == "table":
            lines.insert(at, draw(st.sampled_from(TABLES)))
        elif how == "other id" and equals:
            lines[at] = f"{key} = {value.replace('-', '_')}"
    return "\n".join(lines) + "\n"


@st.composite
def bytes_changed(draw: st.DrawFn, content: bytes) -> bytes:
    """Some bytes flipped, lost, put in or doubled, or the end cut off."""
    changed = bytearray(content)
    for _ in range(draw(st.integers(1, 5))):
        at = draw(st.integers(0, max(len(changed) - 1, 0)))
        piece = slice(at, at + draw(st.integers(1, 60)))
        how = draw(st.sampled_from(["flip", "lose", "put in", "double", "cut"]))
        if how == "flip" and changed:
            changed[at] ^= draw(st.integers(1, 255))
        elif how == "lose":
            del changed[piece]
        elif how == "put in":
            changed[at:at] = draw(st.binary(min_size=1, max_size=12))
        elif how == "double":
            changed[at:at] = changed[piece]
        elif how == "cut" and at > len(changed) // 2:
            del changed[at:]
    return bytes(changed)


def told(own: Path) -> int:
    """Has a chapter checked, and looks at every word of what is said; how much was wrong."""
    errors = check(own)
    for error in errors:
        assert error.what
        assert error.right
        assert error.where.startswith(str(own))
        assert error.where.removeprefix(str(own)).lstrip(":")[:1].isdigit()
    return sum(not isinstance(e, ChapterGap) for e in errors)


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the repairer's own chapter stands."""
    return tmp_path_factory.mktemp("own") / "own.toml"


@pytest.mark.parametrize("chapter", CHAPTERS[::9], ids=str)
def test_a_shipped_chapter_may_stand_over_itself(chapter: Path, own: Path) -> None:
    own.write_bytes((SHIPPED / chapter).read_bytes())
    assert told(own) == 0


@pytest.mark.parametrize("content", [b"\xff\xfe", b"[[fault]]\nid = 3\n", b""], ids=["no text", "no id", "nothing"])
def test_the_command_ends_with_a_count_and_not_with_a_crash(own: Path, content: bytes) -> None:
    own.write_bytes(content)
    ran = CliRunner().invoke(handbook, ["check", str(own)])
    wrong = told(own)
    assert ran.exit_code == (2 if wrong else 0)
    assert ran.exception is None or isinstance(ran.exception, SystemExit)
    assert f"{wrong} wrong" in ran.output


@FUZZ
@given(data=st.data())
def test_changed_lines_are_told_each_with_its_place(own: Path, data: st.DataObject) -> None:
    chapter = data.draw(st.sampled_from(CHAPTERS))
    own.write_text(data.draw(lines_changed((SHIPPED / chapter).read_text("utf-8"))), "utf-8")
    told(own)


@FUZZ
@given(data=st.data())
def test_changed_bytes_are_told_each_with_its_place(own: Path, data: st.DataObject) -> None:
    chapter = data.draw(st.sampled_from(CHAPTERS))
    own.write_bytes(data.draw(bytes_changed((SHIPPED / chapter).read_bytes())))
    told(own)


@FUZZ
@given(data=st.data())
def test_a_whole_handbook_with_one_changed_chapter_is_told(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """In place of the shipped one, as whoever edits the handbook itself would have it checked."""
    folder = tmp_path_factory.mktemp("whole")
    chapter = data.draw(st.sampled_from(CHAPTERS))
    for one in CHAPTERS:
        there = folder / one
        there.parent.mkdir(exist_ok=True, parents=True)
        text = (SHIPPED / one).read_text("utf-8")
        there.write_text(data.draw(lines_changed(text)) if one == chapter else text, "utf-8")
    for error in check(folder):
        assert error.what
        assert error.right
        assert error.where.startswith(str(folder))
