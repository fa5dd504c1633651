"""People's words become ids; what fits nothing stays in their words."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from firstpull.handbook.read import load
from firstpull.handbook.spell import Heard, Speller, at_the_bench, at_the_counter

PHRASES = [
    ("complaint", "dead", "dead"),
    ("complaint", "dies-hot", "dies when hot"),
    ("told", "hot-day", "when hot"),
    ("complaint", "no-start", "won't start"),
    ("told", "shop", "another shop had it"),
]


def test_case_punctuation_and_apostrophes_do_not_matter() -> None:
    speller = Speller(PHRASES)
    for said in ("WON'T START!", "wont start", "won’t, start", "  Won't\n start."):
        assert speller.spell(said).ids("complaint") == ("no-start",)


def test_the_longest_phrase_wins() -> None:
    spelled = Speller(PHRASES).spell("Dies, when hot.")
    assert spelled.heard == (Heard("complaint", "dies-hot", "Dies, when hot"),)
    assert spelled.own_words == ()


def test_words_that_fit_nothing_are_kept_as_they_were_said() -> None:
    spelled = Speller(PHRASES).spell("My old Mower won't start; smells of pears, another shop had it (twice)")
    assert spelled.ids("complaint") == ("no-start",)
    assert spelled.ids("told") == ("shop",)
    assert spelled.own_words == ("My old Mower", "smells of pears", "twice")


def test_part_of_a_word_is_not_the_word() -> None:
    assert Speller(PHRASES).spell("deadline").own_words == ("deadline",)


def test_words_of_several_machines_are_heard_as_all_of_them() -> None:
    speller = Speller([("machine", "a", "generator"), ("machine", "b", "generator"), ("told", "c", "generator")])
    assert [(heard.kind, heard.id) for heard in speller.spell("a generator").heard] == [
        ("machine", "a"),
        ("machine", "b"),
    ]


def test_an_id_is_always_understood_whoever_uses_its_words() -> None:
    speller = Speller([("complaint", "b", "b"), ("complaint", "a", "b"), ("complaint", "a", "a")])
    assert speller.spell("b").ids("complaint")[0] == "b"


@given(
    st.lists(st.sampled_from(["dead", "won't start", "when hot", "dies", "xyz", "?!", "hot", "another shop had it"]))
)
def test_no_word_is_lost_or_heard_twice(said: list[str]) -> None:
    spelled = Speller(PHRASES).spell(" ".join(said))
    plain = Speller([("word", w, w) for phrase in said for w in phrase.split() if w != "?!"])
    kept = [heard.words for heard in spelled.heard] + list(spelled.own_words)
    assert sorted(h.words for text in kept for h in plain.spell(text).heard) == sorted(
        w for phrase in said for w in phrase.split() if w != "?!"
    )


@given(st.text(max_size=80))
def test_any_text_is_taken(said: str) -> None:
    spelled = Speller(PHRASES).spell(said)
    assert all(words in said for words in spelled.own_words)
    assert all(heard.words in said for heard in spelled.heard)


def test_the_counter_hears_complaints_history_and_machines(shelf: Any) -> None:
    speller = at_the_counter(load(shelf.write()))
    spelled = speller.spell("push mower, dead. another shop had it last week")
    assert spelled.ids("machine") == ("mower",)
    assert spelled.ids("complaint") == ("will-not-start",)
    assert spelled.ids("told") == ("other-work",)
    assert spelled.own_words == ("last week",)
    assert speller.spell("will-not-start").ids("complaint") == ("will-not-start",)


def test_the_bench_hears_what_a_reading_is_called(shelf: Any) -> None:
    speller = at_the_bench(load(shelf.write()).checks["spark"])
    assert speller.spell("no spark!").ids("outcome") == ("dark",)
    assert speller.spell("Lights every pull").ids("outcome") == ("lights",)
    assert speller.spell("lights").ids("outcome") == ("lights",)


def test_words_of_two_kinds_are_heard_as_the_kind_that_was_asked_for_first(shelf: Any) -> None:
    book = load(shelf.write(('"another shop had it"', '"dead"')))
    assert [heard.kind for heard in at_the_counter(book).spell("dead").heard] == ["complaint"]
    assert [heard.id for heard in at_the_counter(book, ["told"]).spell("dead").heard] == ["other-work"]
