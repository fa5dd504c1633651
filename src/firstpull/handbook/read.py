"""Chapters from files: read, laid over each other, checked, and either a book or all that is wrong with them.

`python -m firstpull.handbook.read PATH` prints what is wrong with a chapter or with a whole handbook.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from pydantic import BaseModel

from firstpull.base.errors import HandbookError, ManyErrors
from firstpull.handbook import crossref, locate, orphans
from firstpull.handbook.book import Book, make_book
from firstpull.handbook.findings import ChapterError, ChapterGap, Finding, Key, dotted, nearest
from firstpull.handbook.schema import CHAPTER_WORDS, MODELS, read_entry

SHIPPED = Path(__file__).parent
_TOML = "TOML 1.0; a table in braces stays on one line, with no comma before its end"
_OF_A_SYSTEM = ("fault", "check", "repair")


@dataclass
class _File:
    path: Path
    text: str
    raw: dict[str, object]

    @cached_property
    def lines(self) -> dict[Key, int]:
        return locate.lines(self.text)

    def error(self, finding: Finding, key: Key) -> ChapterError:
        """The finding with its line; `key` leads from the top of the file to the place."""
        line = locate.line_of(self.lines, key)
        words = " ".join(part for part in (f"{finding.kind} '{finding.id}'", dotted(finding.key)) if part)
        kind = ChapterGap if finding.gap else ChapterError
        return kind(finding.what, finding.right, self.path, line, words if finding.kind else dotted(finding.key))


@dataclass
class _Reading:
    """Entries laid over each other so far, where each came from, and what was wrong."""

    raw: dict[tuple[str, str], dict[str, object]] = field(default_factory=dict)
    origin: dict[tuple[str, str], tuple[_File, int]] = field(default_factory=dict)
    entries: dict[str, dict[str, BaseModel]] = field(default_factory=lambda: {kind: {} for kind in MODELS})
    errors: list[HandbookError] = field(default_factory=list)


def load(folder: Path | None = None, extra: Sequence[Path] = ()) -> Book:
    """The shipped handbook (or the one in `folder`) with a repairer's own chapters laid over it.

    An entry of an own chapter whose kind and id are known replaces the keys that it gives, tables such as `rate`
    key by key; any other entry is added.

    Raises:
        ManyErrors: with every fault of every file, when there is one.
    """
    reading = _read(folder or SHIPPED, extra)
    if reading.errors:
        raise ManyErrors(_in_order(reading.errors))
    book = make_book(reading.entries)
    errors = _located(reading, crossref.errors(book))
    if errors:
        raise ManyErrors(_in_order(errors))
    return book


def check(path: Path) -> list[HandbookError]:
    """Everything that is wrong with a handbook folder, or with one own chapter laid over the shipped handbook.

    What is missing (`ChapterGap`) is told once nothing is wrong (`ChapterError`) any more. Of an own chapter only its
    own faults are told.
    """
    whole = path.is_dir() or SHIPPED in path.resolve().parents
    reading = _read(path if path.is_dir() else SHIPPED, () if whole else (path,))
    mine = None if path.is_dir() else path.resolve()
    book = make_book(reading.entries)
    wrong = [*reading.errors, *_located(reading, crossref.errors(book))]
    # What is missing can only be told of a handbook that holds together.
    found = wrong or _located(reading, orphans.gaps(book))
    return _in_order(e for e in found if mine is None or not isinstance(e, ChapterError) or e.file.resolve() == mine)


def _in_order(errors: Iterable[HandbookError]) -> list[HandbookError]:
    """Faults in the order of the documents, then what is missing; each once."""

    def place(error: HandbookError) -> tuple[bool, str, int]:
        if isinstance(error, ChapterError):
            return isinstance(error, ChapterGap), str(error.file), error.line
        return False, error.where, 0

    return sorted({str(error): error for error in errors}.values(), key=place)


def _read(folder: Path, extra: Sequence[Path]) -> _Reading:
    reading = _Reading()
    for file in _files(folder, reading.errors):
        _lay(reading, file, over=set())
    shipped = set(reading.raw)  # each may be laid over once, whatever the number of own chapters
    for path in extra:
        for file in _files(path, reading.errors):
            _lay(reading, file, over=shipped)
    for (kind, name), raw in reading.raw.items():
        entry, findings = read_entry(kind, raw)
        if entry is not None:
            reading.entries[kind][name] = entry
        reading.errors += _located(reading, findings)
    return reading


def _files(path: Path, errors: list[HandbookError]) -> Iterator[_File]:
    paths = sorted(path.rglob("*.toml")) if path.is_dir() else [path]
    if not paths:
        errors.append(HandbookError("no chapter was found", str(path), "a folder with .toml files"))
    for one in paths:
        try:
            text = one.read_bytes().decode()
            yield _File(one, text, tomllib.loads(text))
        except OSError as error:
            errors.append(HandbookError(f"it cannot be read: {error.strerror}", str(one), "a .toml file"))
        except UnicodeDecodeError as error:
            line = error.object[: error.start].count(b"\n") + 1
            errors.append(ChapterError("a character that is not UTF-8", "save the file as UTF-8", one, line, ""))
        except RecursionError:
            errors.append(ChapterError("arrays nested too deep to read", "plain tables", one, 1, ""))
        except ValueError as error:
            errors.append(_syntax(one, text, error))


def _syntax(path: Path, text: str, error: ValueError) -> ChapterError:
    what, _, place = str(error).partition(" (at ")
    digits = place.removeprefix("line ").split(",")[0]
    line = int(digits) if digits.isdigit() else text.count("\n") + 1 if place else 1
    return ChapterError(f"not TOML: {what[:1].lower()}{what[1:]}", _TOML, path, line, "")


def _lay(reading: _Reading, file: _File, over: set[tuple[str, str]]) -> None:
    """Every entry of a file, added or laid over a known one; what is no entry at all is an error."""
    system = file.raw.get("system", "")
    for word, value in file.raw.items():
        if word in CHAPTER_WORDS:
            if not isinstance(value, str):
                _refuse(reading, file, (word,), f"'{word}' is not a word in quotes", 'for example system = "fuel"')
        elif word not in MODELS:
            _refuse(reading, file, (word,), f"unknown key '{word}'", nearest(word, [*MODELS, *CHAPTER_WORDS]))
        elif not isinstance(value, list):
            _refuse(reading, file, (word,), f"'{word}' is not a list of entries", f"[[{word}]] before each entry")
        else:
            for index, raw in enumerate(value):
                _lay_entry(reading, file, (word, index), raw, system, over)


def _lay_entry(
    reading: _Reading,
    file: _File,
    place: tuple[str, int],
    raw: object,
    system: object,
    over: set[tuple[str, str]],
) -> None:
    kind, index = place
    if not isinstance(raw, dict):
        return _refuse(reading, file, place, f"entry {index + 1} of '{kind}' is not a table", f"[[{kind}]]")
    name = raw.get("id")
    if not isinstance(name, str):
        return _refuse(reading, file, place, f"{kind} number {index + 1} has no id", 'id = "words-and-hyphens"')
    old = reading.origin.get((kind, name))
    if old is not None and (kind, name) not in over:
        line = locate.line_of(old[0].lines, (kind, old[1]))
        right = f"one id, one thing; the other one stands in {old[0].path}:{line}"
        return _refuse(reading, file, (*place, "id"), f"two entries of kind {kind} named '{name}'", right)
    over.discard((kind, name))
    base = reading.raw.get((kind, name), {})
    if kind in _OF_A_SYSTEM and not base:
        raw = {"system": system, **raw}
    reading.raw[kind, name] = _over(base, raw)
    reading.origin[kind, name] = (file, index)
    return None


def _over(base: Mapping[str, object], own: Mapping[str, object]) -> dict[str, object]:
    merged = dict(base)
    for key, value in own.items():
        old = merged.get(key)
        merged[key] = _over(old, value) if isinstance(old, dict) and isinstance(value, dict) else value
    return merged


def _refuse(reading: _Reading, file: _File, key: Key, what: str, right: str) -> None:
    reading.errors.append(file.error(Finding("", "", key, what, right), key))


def _located(reading: _Reading, findings: Iterable[Finding]) -> list[HandbookError]:
    located: list[HandbookError] = []
    for finding in findings:
        file, index = reading.origin[finding.kind, finding.id]
        located.append(file.error(finding, (finding.kind, index, *finding.key)))
    return located


def main(arguments: Sequence[str]) -> int:
    """Print what is wrong with the chapters at a path; 1 when something must be put right."""
    found = check(Path(arguments[0]) if arguments else SHIPPED)
    for error in found:
        sys.stdout.write(f"{'missing' if isinstance(error, ChapterGap) else 'wrong'}: {error}\n")
    faults = sum(not isinstance(error, ChapterGap) for error in found)
    sys.stdout.write(f"{faults} wrong, {len(found) - faults} missing\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
