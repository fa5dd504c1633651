"""What leaves the event before it is stored, and what comes back."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.workshop.events import Event
from firstpull.workshop.privacy import join, split


def event(kind: str, body: dict[str, Any], version: int = 1) -> Event:
    return Event("J1", 1, "a", 0, kind, version, "2026-04-11T09:00:00.000Z", "sam", body)


def test_words_and_fields_nobody_declared_are_kept_apart() -> None:
    kept, apart = split(event("reading", {"check": "k", "reading": 1, "while": "fine", "words": "w", "own": "o"}))
    assert kept == {"check": "k", "reading": 1, "while": "fine", "_private": ["own", "words"]}
    assert apart == {"own": "o", "words": "w"}


def test_what_this_program_cannot_read_is_private_whole() -> None:
    assert split(event("levitated", {"a": 1}))[0] == {"_private": ["a"]}
    assert split(event("reading", {"check": "k", "reading": 1}, version=9))[1] == {"check": "k", "reading": 1}


def test_advice_is_kept_as_it_was_said() -> None:
    assert split(event("advised", {"next": {"id": "k"}})) == ({"next": {"id": "k"}}, {})


@given(
    st.sampled_from(["note", "reading", "opened", "levitated", "advised"]),
    st.dictionaries(st.sampled_from(["text", "words", "check", "x", "number"]), st.text(), max_size=4),
)
def test_what_was_split_joins_again(kind: str, body: dict[str, Any]) -> None:
    assert join(*split(event(kind, body))) == body


@pytest.mark.parametrize("kind", ["note", "levitated"])
def test_an_erased_body_that_goes_round_again_still_says_what_is_gone(kind: str) -> None:
    kept, _ = split(event(kind, {"text": "Ada rang"}))
    erased = event(kind, join(kept, {}))
    assert erased.body == {"_erased": ["text"]}
    assert join(*split(replace(erased))) == {"_erased": ["text"]}
