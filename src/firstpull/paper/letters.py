"""Letters a printer's fonts lack: shown as a box, and named at the foot of the sheet so that nothing is lost."""

import re
import unicodedata
from collections.abc import Callable
from typing import Any

BOX = "□"
# Unassigned, private, surrogate and control characters have no agreed shape; a font that draws one draws a guess.
_SHAPELESS = ("Cn", "Co", "Cs", "Cc")
_COMPLAINT = re.compile(r'the text `"(.*?)"` could not be displayed')
_ESCAPE = re.compile(r"\\u\{([0-9a-f]+)\}|\\(.)")
_PLAIN = {"n": "\n", "r": "\r", "t": "\t", "0": "\0"}


def shapeless(letter: str) -> bool:
    """Whether a character has no agreed shape at all; line ends and tabs are layout, not letters."""
    return letter not in "\n\t" and unicodedata.category(letter) in _SHAPELESS


def is_mark(letter: str) -> bool:
    """Whether a character stands on the letter before it."""
    return unicodedata.category(letter).startswith("M")


def clusters(text: str) -> list[str]:
    """A text cut into letters, each with the marks that stand on it."""
    found: list[str] = []
    for letter in text:
        if found and is_mark(letter):
            found[-1] += letter
        else:
            found.append(letter)
    return found


def refused_letters(complaint: str) -> set[str]:
    """The letters a typesetter's complaint says no font has."""

    def plain(found: re.Match[str]) -> str:
        return chr(int(found[1], 16)) if found[1] else _PLAIN.get(found[2], found[2])

    return set("".join(_ESCAPE.sub(plain, text) for text in _COMPLAINT.findall(complaint)))


def every_text(values: Any, change: Callable[[str], str]) -> Any:
    """The same nested values with every text in them changed."""
    if isinstance(values, str):
        return change(values)
    if isinstance(values, dict):
        return {key: every_text(value, change) for key, value in values.items()}
    if isinstance(values, (list, tuple)):
        return [every_text(value, change) for value in values]
    return values


def letters_of(values: Any) -> frozenset[str]:
    """Every letter that occurs in some nested values."""
    seen: set[str] = set()

    def note(text: str) -> str:
        seen.update(text)
        return text

    every_text(values, note)
    return frozenset(seen)


def boxed(values: Any, lacking: frozenset[str]) -> tuple[Any, list[str]]:
    """The values with a box for every lacking letter, and a note for each word that was changed."""
    notes: dict[str, None] = {}

    def change(text: str) -> str:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
        if lacking.isdisjoint(text):
            return text
        for word in text.split():
            lost = [letter for letter in word if letter in lacking]
            if lost:
                shown = "".join(BOX if letter in lacking else letter for letter in word)
                notes[f"{shown} = " + " ".join(f"U+{ord(letter):04X}" for letter in lost)] = None
        return "".join(BOX if letter in lacking else letter for letter in text)

    return every_text(values, change), list(notes)
