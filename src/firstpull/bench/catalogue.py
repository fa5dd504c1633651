"""The handbook as lists, for scripts and for the faces."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from firstpull.base.errors import FirstpullError, HandbookError, InputError, ManyErrors
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Check, Fault, MachineClass, Repair
from firstpull.handbook.findings import ChapterGap
from firstpull.handbook.read import check as check_path
from firstpull.handbook.read import load

KINDS = ("faults", "checks", "repairs", "access", "complaints", "told", "machines")


def listing(book: Book, kind: str) -> list[dict[str, Any]]:
    """All entries of one kind: id, name, system, and what belongs to the kind.

    Raises:
        InputError: no such kind.
    """
    if kind not in KINDS:
        raise InputError(f"unknown kind '{kind}'", "handbook list", "one of " + ", ".join(KINDS))
    return [_entry(kind, entry) for entry in getattr(book, kind).values()]


def _entry(kind: str, entry: Any) -> dict[str, Any]:
    found: dict[str, Any] = {
        "id": entry.id,
        "name": entry.name,
        "system": getattr(entry, "system", ""),
        "numbers": list(getattr(entry, "numbers", ())),
    }
    if isinstance(entry, Check):
        found |= _check(entry)
    elif isinstance(entry, Repair):
        found |= {"cures": list(entry.cures), "minutes": entry.minutes, "waiting": entry.waiting,
                  "proof": {"check": entry.proof.check, "outcomes": list(entry.proof.outcomes)}}
    elif isinstance(entry, Fault):
        found |= {"part": entry.part, "kind": entry.kind}
    elif isinstance(entry, MachineClass):
        found |= {"traits": {k: v for k, v in entry.sizes.items() if isinstance(v, str)}}
    elif kind == "access":
        found |= {"added": entry.added, "off_minutes": entry.off_minutes, "on_minutes": entry.on_minutes}
    elif kind == "told":
        found |= {"question": entry.question}
    elif kind == "complaints":
        found |= {"phrases": list(entry.phrases), "outcomes": ["still", "gone"]}
    return found


def _check(check: Check) -> dict[str, Any]:
    first = check.readings[0]
    return {
        "outcomes": [o.id for o in first.outcomes],
        "unit": first.unit if first.number else None,
        "readings": [
            {"key": r.key, "outcomes": [o.id for o in r.outcomes], "unit": r.unit if r.number else None,
             "several": r.several, "model": r.model}
            for r in check.readings
        ],
        "instrument": check.instrument,
        "arrangement": {
            "needs": {"off": list(check.needs.off), "on": list(check.needs.on)},
            "wants": {"off": list(check.wants.off), "on": list(check.wants.on)},
            "varies": list(check.varies),
            "spins": check.spins, "runs": check.runs, "thermal": check.thermal, "choke": check.choke,
            "load": check.load,
        },
        "minutes": check.minutes,
        "waiting": check.waiting,
        "hazard": check.hazard,
    }


def problems(path: Path) -> tuple[list[FirstpullError], list[FirstpullError]]:
    """What is wrong with a chapter, a folder of own chapters or a whole handbook; and what is only missing.

    Raises:
        InputError: there is nothing at the path.
    """
    if not path.exists():
        raise InputError("there is no such file or folder", str(path), "a .toml chapter, or a folder of them")
    if path.is_dir() and not (path / "machines").is_dir():
        return _of_own_chapters(path), []
    found: list[HandbookError] = check_path(path)
    wrong: list[FirstpullError] = [e for e in found if not isinstance(e, ChapterGap)]
    return wrong, [e for e in found if isinstance(e, ChapterGap)]


def _of_own_chapters(folder: Path) -> list[FirstpullError]:
    """What is wrong with all chapters of a folder together, laid over the shipped handbook as a workshop does."""
    chapters = sorted(folder.glob("*.toml"))
    if not chapters:
        return [InputError("no chapter was found", str(folder), "a folder with .toml files")]
    try:
        load(extra=chapters)
    except ManyErrors as many:
        return list(many.errors)
    return []
