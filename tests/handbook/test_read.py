"""Reading chapters: all faults at once with their lines, own chapters over the shipped ones, and no crash ever."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError, HandbookError, ManyErrors
from firstpull.handbook.findings import ChapterError, ChapterGap
from firstpull.handbook.read import check, load, main

OWN = """\
system = "own work"

[[fault]]
id = "lead-chafed"
rate = { mower = 40 }

[[fault]]
id = "lead-off"
name = "Stop lead off its tab"
source = "judgement"
part = "stop-lead"
plain = "The lead has come off."
rate = { default = 2 }
draws = [{ parameter = "stop_lead_series_ohm", form = "fixed", value = 1e9 }]

[[check]]
id = "tug-lead"
name = "Tug at the stop lead"
source = "judgement"
part = "stop-lead"
minutes = 0.5
how = ["Tug."]
[[check.reading]]
model = "eye-and-hand"
reads = "stop_lead_series_ohm"
unit = "ohm"
outcomes = [{ id = "holds", name = "holds", below = 1e6 }, { id = "comes-off", name = "comes off", from = 1e6 }]

[[repair]]
id = "push-lead-on"
name = "Push the stop lead on"
source = "judgement"
part = "stop-lead"
cures = ["lead-off"]
minutes = 1
how = ["Push it on until it clicks."]
proof = { check = "tug-lead", outcomes = ["holds"] }
"""


def said(path: Path) -> list[str]:
    return [str(error) for error in check(path)]


def test_an_own_chapter_adds_a_fault_a_check_and_a_repair_and_moves_one_rate(shelf: Any) -> None:
    plain, book = load(shelf.write()), load(shelf.write(), [shelf.add(OWN)])
    assert set(book.faults) - set(plain.faults) == {"lead-off"}
    assert set(book.checks) - set(plain.checks) == {"tug-lead"}
    assert set(book.repairs) - set(plain.repairs) == {"push-lead-on"}
    assert book.faults["lead-off"].system == "own work"
    moved = book.faults["lead-chafed"]
    assert moved.rate == {"default": 8, "mower": 40}
    assert moved.model_copy(update={"rate": plain.faults["lead-chafed"].rate}) == plain.faults["lead-chafed"]
    assert moved.system == "ignition"
    assert book.hash != plain.hash


def test_own_chapters_may_stand_in_a_folder(shelf: Any) -> None:
    shelf.add(OWN)
    chapters = shelf.folder / "chapters"
    chapters.mkdir()
    shelf.own.rename(chapters / "own.toml")
    assert "tug-lead" in load(shelf.write(), [chapters]).checks


def test_two_own_chapters_may_not_both_change_one_entry(shelf: Any) -> None:
    own = shelf.add(OWN)
    other = shelf.folder / "other.toml"
    other.write_text('[[fault]]\nid = "lead-chafed"\nduty = 0.5\n')
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write(), [own, other])
    assert f"{other}:2: fault[0].id: two entries of kind fault named 'lead-chafed'" in str(caught.value)
    assert f"the other one stands in {own}:3" in str(caught.value)
    other.write_text('[[check]]\nid = "spark"\nminutes = 3\n')
    assert load(shelf.small, [own, other]).checks["spark"].minutes == 3


def test_a_file_that_is_named_twice_is_refused(shelf: Any) -> None:
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write(), [shelf.add(OWN), shelf.own])
    assert "two entries of kind fault named 'lead-chafed'" in str(caught.value)


def test_a_list_that_holds_no_tables_is_refused(shelf: Any) -> None:
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write(), [shelf.add("fault = [1]\n")])
    assert "entry 1 of 'fault' is not a table ([[fault]])" in str(caught.value)


def test_all_faults_of_all_files_are_told_at_once_with_file_line_and_key(shelf: Any) -> None:
    folder = shelf.write(("minutes = 10", 'minutes = "ten"'), ("cures =", "curse ="))
    own = shelf.add('[[fault]]\nid = "lead-chafed"\n\nrate.mower = -1\nrate.default = "often"\n[[rapair]]\nid = "x"\n')
    with pytest.raises(ManyErrors) as caught:
        load(folder, [own])
    text = (folder / "all.toml").read_text().splitlines()
    found = [(e.file.name, e.line, e.key, e.what, e.right) for e in caught.value.errors if isinstance(e, ChapterError)]
    curse, minutes = (n for n, line in enumerate(text, 1) if line.startswith(('minutes = "ten', "curse")))
    assert sorted(found) == sorted(
        [
            ("own.toml", 6, "rapair", "unknown key 'rapair'", "did you mean 'repair'?"),
            ("own.toml", 4, "fault 'lead-chafed' rate.mower", "-1 was found", "0 or more"),
            ("own.toml", 5, "fault 'lead-chafed' rate.default", "'often' was found", "a number"),
            ("all.toml", minutes, "repair 'reroute' minutes", "'ten' was found", "a number"),
            ("all.toml", curse, "repair 'reroute' curse", "unknown key 'curse'", "did you mean 'cures'?"),
            (
                "all.toml",
                curse - 5,
                "repair 'reroute' cures",
                "'cures' is missing",
                "every repair says its cures",
            ),
        ]
    )


SHAPES = [
    ('id = "reroute"', 'id = "Re Route"', "'Re Route' is not an id", "lower-case words joined by hyphens"),
    ('id = "reroute"\n', "", "repair number 1 has no id", 'id = "words-and-hyphens"'),
    (
        'id = "look-at-lead"',
        'id = "spark"',
        "two entries of kind check named 'spark'",
        "the other one stands in",
    ),
    ("[[repair]]", "[repair]", "'repair' is not a list of entries", "[[repair]] before each entry"),
    ('system = "ignition"', "system = 1", "'system' is not a word in quotes", "for example"),
    ('system = "ignition"', "", "it belongs to no system", "at the top of the file"),
    (
        'model = "gauge"',
        'model = "guess"',
        "'guess' is not one of the words for this",
        "one of gauge, eye-and-hand",
    ),
    ("spins = true", 'spins = "yes"', "'yes' was found", "true or false"),
    ("spins = true", "spins = true\ntries = 1.5", "1.5 was found", "a whole number"),
    ("spins = true", "spins = true\ntries = 0", "0 was found", "1 or more"),
    (
        "spins = true",
        "spins = true\nunreliable = 2001-01-01",
        "a date or time was found",
        "a word or sentence in quotes",
    ),
    ('plain = "The', 'plain = ["a"]\nprevent = "The', "an array was found", "a word or sentence in quotes"),
    ("rate = { default = 8, mower = 10 }", "rate = 8", "8 was found", "a table of keys and values"),
    ('numbers = ["F012"]', 'numbers = "F012"', "'F012' was found", "an array in brackets"),
    ("minutes = 10", "minutes = nan", "nan was found", "a finite number"),
    ("minutes = 10", "minutes = true", "true was found", "a number"),
    ("low = 0.1, high = 20 }", "low = 0.1 }", "form 'log-uniform' takes low and high, not low", "draws"),
    (
        'source = "judgement"\npart = "coil"',
        'part = "coil"',
        "'source' is missing",
        "every check says its source",
    ),
    ("[50, 100, 200]", "[50, 100]", "'2' is missing", "worth"),
    ("minutes = 10", "minutes = = 10", "not TOML: invalid value", "TOML 1.0"),
]


@pytest.mark.parametrize(("old", "new", "found", "right"), SHAPES, ids=[row[1][:24] + row[2][:20] for row in SHAPES])
def test_a_wrong_shape_is_told_with_the_right_one(shelf: Any, old: str, new: str, found: str, right: str) -> None:
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write((old, new)))
    assert found in str(caught.value)
    assert right in str(caught.value)
    assert re.search(r"all\.toml:\d+", str(caught.value))


def test_a_file_that_is_not_text_is_told_with_the_line(shelf: Any) -> None:
    shelf.own.write_bytes(b"about = 'x'\nsystem = '\xff'\n")
    with pytest.raises(ManyErrors) as caught:
        load(shelf.write(), [shelf.own])
    assert f"{shelf.own}:2: a character that is not UTF-8" in str(caught.value)


def test_a_missing_file_and_an_empty_folder_are_told(shelf: Any) -> None:
    empty = shelf.folder / "empty"
    empty.mkdir()
    with pytest.raises(ManyErrors) as caught:
        load(empty, [shelf.folder / "nowhere.toml"])
    assert f"{empty}: no chapter was found (a folder with .toml files)" in str(caught.value)
    assert f"{shelf.folder / 'nowhere.toml'}: it cannot be read: No such file" in str(caught.value)


def test_what_is_missing_is_told_and_does_not_refuse_the_book(shelf: Any) -> None:
    folder = shelf.write(('cures = ["lead-chafed"]', 'cures = ["other"]'))
    (folder / "more.toml").write_text(
        'system = "x"\n[[fault]]\nid = "other"\nname = "x"\nsource = "judgement"\npart = "x"\nplain = "x"\n'
        'rate = { default = 0 }\ndraws = [{ parameter = "air_gap_mm", form = "fixed", value = 1 }]'
    )
    assert load(folder).faults
    found = check(folder)
    assert all(isinstance(error, ChapterGap) for error in found)
    text = "\n".join(str(gap) for gap in found)
    assert "fault 'lead-chafed': no repair cures it" in text
    assert "fault 'other': it never happens" in text


def test_nothing_is_called_missing_while_something_is_wrong(shelf: Any) -> None:
    folder = shelf.write(('cures = ["lead-chafed"]', 'cures = ["other"]'))
    (error,) = check(folder)
    assert "'other' is not a fault (one of lead-chafed)" in str(error)


def test_nothing_that_nobody_names_stays_unnoticed(shelf: Any) -> None:
    more = '\n[[caution]]\nid = "hot"\ntext = "Let it cool."\nsource = "judgement"\n'
    more += '\n[[told]]\nid = "tipped"\nname = "x"\nquestion = "x?"\nsource = "judgement"\n'
    more += 'phrases = ["Another shop had it!"]\n'
    text = "\n".join(said(shelf.write(add=more)))
    assert "caution 'hot': no step or access item names it" in text
    assert "told 'tipped': no fault names it" in text
    assert "'Another shop had it!' already means told 'other-work' (one phrase, one meaning)" in text


def test_a_chapter_is_checked_against_the_shipped_handbook_and_told_only_its_own_faults(shelf: Any) -> None:
    own = shelf.add('[[fault]]\nid = "made-up"\nname = "x"\n')
    errors = check(own)
    assert errors
    assert {error.file for error in errors if isinstance(error, ChapterError)} == {own}
    assert any("'plain' is missing" in str(error) for error in errors)


def test_the_command_prints_every_fault_and_counts_them(shelf: Any, capsys: pytest.CaptureFixture[str]) -> None:
    folder = shelf.write(("minutes = 10", "minutes = -1"))
    assert main([str(folder)]) == 1
    out = capsys.readouterr().out
    assert "wrong: " in out
    assert "-1 was found (0 or more)" in out
    assert re.search(r"^1 wrong, \d+ missing$", out, re.MULTILINE)


def _survives(shelf: Any, content: bytes) -> None:
    """The chapter is taken, or refused with whole sentences; any other exception fails the test."""
    shelf.own.write_bytes(content)
    told: tuple[FirstpullError, ...] | None = None
    try:
        load(shelf.small, [shelf.own])
    except ManyErrors as error:
        told = error.errors
    assert told != ()
    assert all(isinstance(one, HandbookError) and one.what and one.where and one.right for one in told or ())


FUZZ = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@FUZZ
@given(content=st.binary(max_size=200))
def test_no_bytes_crash_the_reader(shelf: Any, content: bytes) -> None:
    shelf.write()
    _survives(shelf, content)


WORDS = [
    "1",
    "-1",
    "nan",
    "inf",
    '"x"',
    "[]",
    "[[]]",
    "{}",
    "true",
    "1979-05-27",
    "99999999999999999999999",
    '"a-b"',
    "{ from = 1 }",
    "[1, 2, 3, 4]",
    '["x"]',
    "1e308",
    "",
    "}",
    '"""',
]


def _changed(data: st.DataObject, text: str) -> str:
    """A chapter with a few lines changed as a tired hand might: a value, a key, a line lost, doubled or cut off."""
    for _ in range(data.draw(st.integers(1, 3))):
        lines = text.splitlines()
        at = data.draw(st.integers(0, len(lines) - 1))
        key, equals, value = lines[at].partition(" = ")
        how = data.draw(st.sampled_from(["value", "drop", "twice", "cut", "rename"]))
        if how == "value" and equals:
            lines[at] = f"{key} = {data.draw(st.sampled_from(WORDS))}"
        elif how == "rename" and equals:
            lines[at] = f"{data.draw(st.sampled_from(['id', 'reads', 'x', 'a.b', 'needs']))} = {value}"
        elif how == "cut":
            lines[at] = lines[at][: data.draw(st.integers(0, len(lines[at])))]
        else:
            lines[at : at + 1] = [] if how == "drop" else [lines[at], lines[at]]
        text = "\n".join(lines) or "x"
    return text


@FUZZ
@given(data=st.data())
def test_no_change_of_an_own_chapter_crashes_the_reader(shelf: Any, data: st.DataObject) -> None:
    shelf.write()
    _survives(shelf, _changed(data, OWN).encode())


@FUZZ
@given(data=st.data())
def test_no_change_of_a_handbook_crashes_the_check(shelf: Any, data: st.DataObject) -> None:
    file = shelf.write() / "all.toml"
    file.write_text(_changed(data, file.read_text()))
    for error in check(shelf.small):
        assert error.what
        assert error.where.startswith(str(file))
        assert error.right


def test_arrays_nested_too_deep_are_refused(shelf: Any) -> None:
    shelf.write()
    for depth in (90, 900, 9_000):
        _survives(shelf, b"x = " + b"[" * depth + b"]" * depth)
        _survives(shelf, b"[[fault]]\nid = 'a'\nname = " + b"[" * depth + b"]" * depth)
        _survives(shelf, b"x" + b".x" * (depth // 4) + b" = 1")
        _survives(shelf, b"[[fault]]\nid = 'a'\nrate.x" + b".x" * (depth // 4) + b" = 1")
    _survives(shelf, b"x = " + b"9" * 10_000)


def test_what_is_nested_too_deep_or_too_large_for_an_entry_is_told_at_its_entry(shelf: Any) -> None:
    shelf.write()
    for value in (b"[" * 300 + b"]" * 300, b"0x" + b"f" * 5_000):
        shelf.own.write_bytes(b"\n[[fault]]\nid = 'a'\nname = " + value)
        with pytest.raises(ManyErrors) as caught:
            load(shelf.small, [shelf.own])
        assert f"{shelf.own}:2: fault 'a': it cannot be read (plain words, numbers" in str(caught.value)
