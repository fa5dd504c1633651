"""From the words that people use to the ids of the handbook; what fits nothing stays in their words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")


@dataclass(frozen=True, slots=True)
class Heard:
    """One phrase that was understood: the kind and id of the entry, and the words that said so."""

    kind: str
    id: str
    words: str


@dataclass(frozen=True, slots=True)
class Spelled:
    """A sentence in ids, in the order in which they were said, and the words that fit nothing."""

    heard: tuple[Heard, ...]
    own_words: tuple[str, ...]

    def ids(self, kind: str) -> tuple[str, ...]:
        """The ids of one kind that were heard, each once."""
        return tuple(dict.fromkeys(h.id for h in self.heard if h.kind == kind))


class Speller:
    """Finds phrases in sentences, whatever the case and punctuation, the longest phrase first."""

    def __init__(self, phrases: Iterable[tuple[str, str, str]]) -> None:
        """`phrases` are (kind, id, phrase); of two kinds with one phrase the first keeps it.

        A phrase of several entries of one kind ("generator") is heard as all of them: somebody has to ask.
        """
        self._known: dict[tuple[str, ...], dict[tuple[str, str], None]] = {}
        for kind, name, phrase in phrases:
            words = words_of(phrase)
            owners = self._known.setdefault(words, {})
            if words and all(kind == other for other, _ in owners):
                owners[kind, name] = None
        self._known.pop((), None)
        self._longest = max(map(len, self._known), default=0)

    def spell(self, sentence: str) -> Spelled:
        """The ids in a sentence and the words that fit nothing."""
        matches = list(_WORD.finditer(sentence))
        words = [_plain(match[0]) for match in matches]
        heard: list[Heard] = []
        own: list[str] = []
        at = free = 0
        while at < len(words):
            length = self._phrase_at(words, at)
            if length == 0:
                at += 1
                continue
            own += _between(sentence, matches, free, at)
            said = sentence[matches[at].start() : matches[at + length - 1].end()]
            heard += [Heard(kind, name, said) for kind, name in self._known[tuple(words[at : at + length])]]
            at += length
            free = at
        own += _between(sentence, matches, free, len(words))
        return Spelled(tuple(heard), tuple(own))

    def _phrase_at(self, words: list[str], at: int) -> int:
        """How many words from here on make the longest known phrase; 0 when none do."""
        for length in range(min(self._longest, len(words) - at), 0, -1):
            if tuple(words[at : at + length]) in self._known:
                return length
        return 0


def at_the_counter(book: Book, kinds: Sequence[str] = ("complaint", "told", "machine")) -> Speller:
    """What customers say, by phrases, names and ids; a phrase of two kinds is heard as the kind named first."""
    return Speller(
        _ranked(
            (kind, name, (*getattr(entry, "phrases", ()), str(getattr(entry, "name", name))))
            for kind in kinds
            for name, entry in book.shelf(kind).items()
        )
    )


def at_the_bench(check: Check, key: str | None = None) -> Speller:
    """What a reading of this check is called; `key` chooses one of several readings."""
    return Speller(
        _ranked(
            ("outcome", outcome.id, (outcome.name, *outcome.also))
            for reading in check.readings
            if key is None or reading.key == key
            for outcome in reading.outcomes
        )
    )


def _ranked(entries: Iterable[tuple[str, str, tuple[str, ...]]]) -> Iterator[tuple[str, str, str]]:
    """Ids before phrases, so that nobody's phrase takes another's id away."""
    known = list(entries)
    yield from ((kind, name, name) for kind, name, _ in known)
    yield from ((kind, name, phrase) for kind, name, phrases in known for phrase in phrases)


def words_of(text: str) -> tuple[str, ...]:
    """The bare words of a phrase, as they are compared."""
    return tuple(_plain(match[0]) for match in _WORD.finditer(text))


def _plain(word: str) -> str:
    return word.casefold().replace("’", "").replace("'", "")


def _between(sentence: str, matches: list[re.Match[str]], first: int, end: int) -> list[str]:
    return [sentence[matches[first].start() : matches[end - 1].end()]] if end > first else []
