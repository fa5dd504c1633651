"""Predictions kept on disk, so that a class that was reckoned before is ready at once.

One file a population. It is named by everything that its numbers follow from (engine, handbook, class, day, draws), so
that it can be old but never wrong; a file that cannot be read is thrown away and reckoned anew.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

import firstpull
from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.worlds import Question, Row, Worlds

ENDING = ".npz"
MOST_FILES = 40
# What predictions follow from, beside the handbook: the engine, how draws are made, and how a fault moves a parameter.
SOURCES = ("engine", "base/draws.py", "base/spread.py", "handbook/entries.py", "handbook/select.py",
           "reasoning/worlds.py")


def place(folder: Path, worlds: Worlds) -> Path:
    """The file of a population."""
    said = (
        engine_mark(), worlds.book.book.hash, worlds.book.machine.id, worlds.conditions, worlds.seed, worlds.count,
    )
    mark = hashlib.sha256(repr(said).encode()).hexdigest()[:24]
    return folder / f"{worlds.book.machine.id}-{mark}{ENDING}"


def save(folder: Path, worlds: Worlds) -> None:
    """Keep what a population predicted of machines as they come in; the file is whole or not there.

    A full or locked disk is no error: the predictions are then reckoned anew next time.
    """
    questions: dict[Question, int] = {}
    rows: dict[Row, int] = {}
    entries, usual = [], []
    for (question, quantity), kept in worlds.predicted.items():
        for row, value in kept.items():
            if len(row.faults) <= 2 and not row.renewed:
                asked = questions.setdefault(question, len(questions))
                entries.append((asked, quantity, rows.setdefault(row, len(rows))))
                usual.append(value)
    index = {
        "questions": [[_flat(q.arrangement), list(q.setup)] for q in questions],
        "rows": [[sorted(r.faults), sorted(r.renewed)] for r in rows],
        "entries": entries,
        "traces": [[list(key), [[_flat(a), sorted(p), sorted(t)] for a, p, t in found]]
                   for key, found in worlds.traces.items()],
    }
    values = np.stack(usual) if entries else np.empty((0, worlds.count))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=folder, suffix=".part")
        with os.fdopen(handle, "wb") as file:
            np.savez(file, values=values, index=np.frombuffer(json.dumps(index).encode(), np.uint8))
        os.replace(name, place(folder, worlds))
        _forget_old(folder)
    except OSError:
        return


def load(folder: Path, worlds: Worlds) -> bool:
    """Take up what was kept of a population; whether there was anything."""
    path = place(folder, worlds)
    try:
        with np.load(path, allow_pickle=False) as kept:
            values, index = kept["values"], json.loads(kept["index"].tobytes())
            _take_up(worlds, values, index)
    except FileNotFoundError:
        return False
    except (OSError, ValueError, KeyError, IndexError, TypeError, EOFError, zipfile.BadZipFile):
        path.unlink(missing_ok=True)
        return False
    return True


def _take_up(worlds: Worlds, values: np.ndarray[Any, Any], index: dict[str, Any]) -> None:
    if values.dtype != np.float64 or values.shape != (len(index["entries"]), worlds.count):
        raise ValueError("not the predictions of this population")
    questions = [Question(_arrangement(a), tuple((n, v) for n, v in setup)) for a, setup in index["questions"]]
    rows = [Row(frozenset(faults), frozenset((p, n) for p, n in renewed)) for faults, renewed in index["rows"]]
    traces = {
        tuple(key): [(_arrangement(a), frozenset(p), frozenset(t)) for a, p, t in found]
        for key, found in index["traces"]
    }
    found = [((questions[asked], quantity), rows[row]) for asked, quantity, row in index["entries"]]
    worlds.traces.update(traces)
    for (key, row), value in zip(found, values, strict=True):
        worlds.predicted.setdefault(key, {})[row] = value


def _flat(a: Arrangement) -> list[Any]:
    return [sorted(a.off), sorted(a.added), a.drive, a.thermal, a.choke, a.load]


def _arrangement(flat: list[Any]) -> Arrangement:
    off, added, drive, thermal, choke, load_ = flat
    return Arrangement(frozenset(off), frozenset(added), drive, thermal, choke, load_)


@cache
def engine_mark() -> str:
    """A mark of the source that predictions follow from."""
    home = Path(firstpull.__file__).parent
    found = hashlib.sha256(np.__version__.encode())
    for name in SOURCES:
        files = [home / name] if name.endswith(".py") else sorted((home / name).rglob("*.py"))
        for file in files:
            found.update(file.read_bytes())
    return found.hexdigest()


def _forget_old(folder: Path) -> None:
    """Keep the files used last; what a broken write left goes with the old ones."""
    files = sorted(folder.glob("*"), key=lambda f: f.stat().st_mtime, reverse=True)
    for old in files[MOST_FILES:]:
        old.unlink(missing_ok=True)
