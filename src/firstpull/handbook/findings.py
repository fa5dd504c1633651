"""What the reader finds wrong in a chapter: first by entry and key, then with the file and the line."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from firstpull.base.errors import HandbookError

Key = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong in one entry; `key` leads from the entry to the place.

    `gap` says that the handbook can be used as it is, but something is missing from it.
    """

    kind: str
    id: str
    key: Key
    what: str
    right: str
    gap: bool = False


class ChapterError(HandbookError):
    """One fault of a chapter, with its file, line and key."""

    def __init__(self, what: str, right: str, file: Path, line: int, key: str) -> None:
        self.file = file
        self.line = line
        self.key = key
        super().__init__(what, f"{file}:{line}: {key}" if key else f"{file}:{line}", right)


class ChapterGap(ChapterError):
    """Something missing that does not keep the handbook from being used."""


def dotted(key: Key) -> str:
    """A key as people write it: draws[0].parameter."""
    text = ""
    for part in key:
        text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def nearest(word: str, known: Iterable[str]) -> str:
    """The known words that look most like this one, as a sentence of what would be right."""
    words = sorted(known)
    if not words:
        return "nothing of this kind is known"
    close = difflib.get_close_matches(word, words, n=1, cutoff=0.6)
    if close:
        return f"did you mean '{close[0]}'?"
    if len(words) <= 12:
        return "one of " + ", ".join(words)
    parts = set(word.replace("_", "-").split("-"))
    related = [w for w in words if parts & set(w.replace("_", "-").split("-"))][:6]
    return "one of " + ", ".join(related or words[:6]) + ", ..."
