"""A case file is read whole or refused whole, with everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench.case import CASE_KEYS, STEP_KEYS, read_case, read_case_file, read_step
from firstpull.handbook.book import Book
from tests.bench.odd_values import VALUES

WHOLE = """
machine = "walk-mower-ohv"
complaint = ["will-not-start"]
told = ["stored-with-fuel"]
[conditions]
altitude_m = 200
air_c = 18
[[step]]
check = "spark-at-tester"
reading = "dark"
[[step]]
access = "stop-lead"
state = "off"
[[step]]
check = "spark-at-tester"
reading = "lights"
with = {drive = "drill", thermal = "hot", choke = "closed", load = "none", times = 3}
while = "failing"
[[step]]
check = "leak-down"
reading = {loss = "85 %", hiss = ["carburettor"]}
with = {instrument = "leak-down-tester", spread = "3 %"}
[[step]]
repair = "renew-plug"
by = "owner"
"""


def test_every_feature_of_the_format_is_read(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    path.write_text(WHOLE, encoding="utf-8")
    case = read_case_file(path, book)
    assert (case.machine, case.complaint, case.told) == ("walk-mower-ohv", ("will-not-start",), ("stored-with-fuel",))
    assert (case.conditions.altitude_m, case.conditions.air_c) == (200.0, 18.0)
    dark, off, lights, leak, repair = case.steps
    assert (dark.kind, dark.reading, dark.by, dark.mood, dark.times) == ("check", "dark", "shop", "unknown", 1)
    assert (off.kind, off.id, off.state) == ("access", "stop-lead", "off")
    assert (lights.drive, lights.thermal, lights.choke, lights.load) == ("drill", "hot", "closed", "none")
    assert (lights.times, lights.mood) == (3, "failing")
    assert leak.reading == {"loss": "85 %", "hiss": ["carburettor"]}
    assert (leak.instrument, leak.spread) == ("leak-down-tester", "3 %")
    assert (repair.kind, repair.id, repair.by) == ("repair", "renew-plug", "owner")


def test_a_case_needs_nothing_but_its_machine(book: Book) -> None:
    case = read_case({"machine": "chain-saw"}, book)
    assert case.steps == ()
    assert case.conditions.air_c > 0


def test_all_that_is_wrong_is_told_at_once_each_with_its_place_and_what_would_be_right(book: Book) -> None:
    raw = {
        "machine": "walk-mower-ohvv", "complaint": ["will-not-strat"], "told": "stored-with-fule", "weather": "fine",
        "conditions": {"altitude_m": 90000, "air": 3},
        "step": [{"check": "spark-at-testr"}, {"access": "cover", "state": "away"},
                 {"repair": "renew-plug", "by": "me"}, {"check": "spark-at-tester", "repair": "renew-plug"}, "dark"],
    }
    with pytest.raises(ManyErrors) as caught:
        read_case(raw, book)
    places = {e.where for e in caught.value.errors}
    assert places == {
        "case.weather", "case.machine", "case.complaint", "case.told", "case.conditions.air",
        "case.conditions.altitude_m", "case.step[1].check", "case.step[1].reading", "case.step[2].state",
        "case.step[3].by", "case.step[4]", "case.step[5]",
    }
    assert all(e.what and e.right for e in caught.value.errors)
    assert "did you mean 'walk-mower-ohv'?" in str(caught.value)


@pytest.mark.parametrize(
    "extra",
    [{"times": 0}, {"times": 2.5}, {"times": True}, {"instrument": ["feelers"]}, {"spread": [1]}, {"with": "drill"},
     {"with": {"drive": "horse"}}, {"with": {"drive": ["rope"]}}, {"with": {"colour": "red"}}, {"while": "sulking"},
     {"by": "nobody"}, {"place": 3}, {"place": {"off": 3}}, {"together": ["x"]}],
)
def test_a_word_the_format_does_not_have_is_refused_and_never_passed_over(book: Book, extra: dict[str, Any]) -> None:
    step = {"check": "spark-at-tester", "reading": "dark"}
    read_step(step, book)
    with pytest.raises(FirstpullError):
        read_step(step | extra, book)


@pytest.mark.parametrize(
    ("content", "says"),
    [(b"machine = \nx", "line 1"), (b"\xff\xfe", "utf-8"), (b"a = " + b"[" * 5000, ""), (b"a = " + b"9" * 5000, "")],
    ids=["half a line", "not UTF-8", "nested deep", "a long number"],
)
def test_a_file_that_is_no_toml_is_named_in_one_sentence(book: Book, tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "case.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        read_case_file(path, book)
    assert caught.value.where == str(path)
    assert says in str(caught.value)


def test_a_file_that_is_not_there_or_is_a_folder_is_named(book: Book, tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(InputError, match=str(path)):
            read_case_file(path, book)


@settings(max_examples=150)
@given(raw=st.dictionaries(st.sampled_from(sorted(CASE_KEYS)), VALUES) | VALUES)
def test_no_case_however_odd_gives_anything_but_a_refusal(book: Book, raw: object) -> None:
    try:
        case = read_case(raw, book)
    except FirstpullError:
        return
    assert case.machine in book.machines


STEPS = st.sampled_from(sorted({k for keys in STEP_KEYS.values() for k in keys}))


@settings(max_examples=150)
@given(kind=st.sampled_from(["check", "access", "repair", "told"]), rest=st.dictionaries(STEPS, VALUES, max_size=4))
def test_no_step_however_odd_gives_anything_but_a_refusal(book: Book, kind: str, rest: dict[str, Any]) -> None:
    names = {"check": "leak-down", "access": "cover", "repair": "renew-plug", "told": "in-the-rain"}
    try:
        step = read_step(rest | {kind: names[kind]}, book)
    except FirstpullError:
        return
    assert step.id == names[kind]
