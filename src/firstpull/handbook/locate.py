"""On which line does a key of a TOML file stand? The standard reader does not say, so the text is scanned once."""

from __future__ import annotations

import contextlib
import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping

from firstpull.handbook.findings import Key

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_KEY_PART = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_BLANK = re.compile(r"[ \t]*")
_BETWEEN = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:[^"\\]|\\[\s\S]|"(?!""))*"{3,5}|' + r"'''(?:[^']|'(?!''))*'{3,5}|" + r'"(?:[^"\\\n]|\\.)*"|' + r"'[^'\n]*'"
)
_PLAIN = re.compile(r"[^,\]}\n#]+")
_DEEPEST = 40  # no entry is nested so deep; without a bound the paths of a hostile file would fill the memory


class _LostError(Exception):
    """The text is not what the scanner expects; what was found so far still stands."""


def lines(text: str) -> dict[Key, int]:
    """Each key path of a TOML text with the number of the line on which it is first named.

    Tables, arrays of tables, dotted keys, inline tables, arrays and their elements all have a path; so have
    tables that are only implied. On text that is not TOML the paths up to the fault are given.
    """
    scanner = _Scanner(text.replace("\r\n", "\n"))
    # The reader reports the syntax itself; the lines so far are still of use.
    with contextlib.suppress(_LostError, RecursionError):
        scanner.document()
    return scanner.found


def line_of(found: Mapping[Key, int], key: Key) -> int:
    """The line of a key, or of the longest part of its path that stands in the file; 1 when none does."""
    for end in range(len(key), 0, -1):
        if key[:end] in found:
            return found[key[:end]]
    return 1


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Key, int] = {}
        self.counts: dict[Key, int] = {}
        self.starts = [0] + [match.end() for match in re.finditer("\n", text)]

    def document(self) -> None:
        table: Key = ()
        while True:
            self._skip(_BETWEEN)
            if self.at >= len(self.text):
                return
            if self.text.startswith("[[", self.at):
                table = self._header("[[", "]]")
            elif self.text.startswith("[", self.at):
                table = self._header("[", "]")
            else:
                self._pair(table)

    def _header(self, opening: str, closing: str) -> Key:
        line = self._line()
        self.at += len(opening)
        self._skip(_BLANK)
        names = self._names()
        self._skip(_BLANK)
        self._expect(closing)
        path: Key = ()
        for name in names[:-1]:
            path = self._note((*path, name), line)
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        path = self._note((*path, names[-1]), line)
        if opening == "[[":
            index = self.counts.get(path, 0)
            self.counts[path] = index + 1
            path = self._note((*path, index), line)
        return path

    def _pair(self, table: Key) -> None:
        line = self._line()
        path = table
        for name in self._names():
            path = self._note((*path, name), line)
        self._skip(_BLANK)
        self._expect("=")
        self._skip(_BLANK)
        self._value(path)

    def _names(self) -> list[str]:
        start = self.at
        names = []
        while True:
            part = self._take(_KEY_PART)
            names.append(part if _BARE.fullmatch(part) else "")
            dot = _DOT.match(self.text, self.at)
            if dot is None:
                break
            self.at = dot.end()
        return names if all(names) else _decoded(self.text[start : self.at])

    def _value(self, path: Key) -> None:
        first = self.text[self.at : self.at + 1]
        if first == "[":
            self._array(path)
        elif first == "{":
            self._inline_table(path)
        elif first in ('"', "'") and first:
            self._take(_STRING)
        else:
            self._take(_PLAIN)

    def _array(self, path: Key) -> None:
        self.at += 1
        index = 0
        while True:
            self._skip(_BETWEEN)
            if self._ends("]"):
                return
            self._value(self._note((*path, index), self._line()))
            index += 1
            self._skip(_BETWEEN)
            if self._ends("]"):
                return
            self._expect(",")

    def _inline_table(self, path: Key) -> None:
        self.at += 1
        while True:
            self._skip(_BETWEEN)
            if self._ends("}"):
                return
            self._pair(path)
            self._skip(_BETWEEN)
            if self._ends("}"):
                return
            self._expect(",")

    def _note(self, path: Key, line: int) -> Key:
        if len(path) > _DEEPEST:
            raise _LostError
        self.found.setdefault(path, line)
        return path

    def _line(self) -> int:
        return bisect_right(self.starts, self.at)

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match is not None:
            self.at = match.end()

    def _take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise _LostError
        self.at = match.end()
        return match[0]

    def _ends(self, mark: str) -> bool:
        if self.text.startswith(mark, self.at):
            self.at += len(mark)
            return True
        return False

    def _expect(self, mark: str) -> None:
        if not self._ends(mark):
            raise _LostError


def _decoded(source: str) -> list[str]:
    """The names of a dotted key with quotes and escapes, told by the standard reader itself."""
    try:
        value: object = tomllib.loads(f"{source} = 0")
    except ValueError as error:
        raise _LostError from error
    names = []
    while isinstance(value, dict):
        ((name, value),) = value.items()
        names.append(name)
    return names
