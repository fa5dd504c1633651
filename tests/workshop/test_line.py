"""The line of a job and the words by which it is found."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.workshop.events import Event
from firstpull.workshop.fold import fold
from firstpull.workshop.line import JobLine, facts_words, line_of, private_words, words_in


def event(seq: int, kind: str, body: dict[str, object]) -> Event:
    return Event("J1", seq, f"a{seq}", 0, kind, 1, "2026-04-11T09:00:00.000Z", "sam", body)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Größe, Élan!", {"große", "elan"}),
        ("HV-7781", {"hv", "7781"}),
        ({"name": ["Ada", {"x": "B-2"}]}, {"ada", "b", "2"}),
        (42, {"42"}),
        ("", set()),
        (None, set()),
        ("x" * 90, {"x" * 40}),
        ("\ud800", set()),
    ],
)
def test_words_are_compared_without_case_and_accents(text: object, words: set[str]) -> None:
    assert words_in(text) == {word.replace("ß", "ss") for word in words}


@given(st.text())
def test_any_text_gives_words_that_a_database_can_hold(text: str) -> None:
    for word in words_in(text):
        word.encode("utf-8")
        assert "\x00" not in word


def test_a_line_comes_back_from_plain_values() -> None:
    record = fold([event(1, "opened", {"number": "7", "complaint": ["hunts"], "place": "rack 2"})])
    line = line_of(record)
    assert JobLine.of_dict({**line.as_dict(), "of-another-version": 1}) == line
    assert (line.number, line.complaint, line.place, line.closed) == ("7", ("hunts",), "rack 2", False)


def test_words_that_name_somebody_are_kept_apart_from_facts() -> None:
    record = fold(
        [
            event(1, "opened", {"complaint": ["hunts"], "words": "Ada says it hunts"}),
            event(2, "note", {"text": "brother Bob"}),
            event(3, "part", {"part": "coil", "state": "wanted", "number": "HV-9"}),
        ]
    )
    assert {"ada", "bob"} <= private_words(record)
    assert not {"ada", "bob"} & facts_words(record)
    assert {"hunts", "coil", "hv", "9", "j1"} <= facts_words(record)
