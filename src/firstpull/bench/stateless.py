"""Reasoning without a record: a case in, an answer out; and many jobs in one process over a line protocol."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TextIO

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench.answer import answer
from firstpull.bench.case import Case, read_case, read_case_file, read_step
from firstpull.bench.order_tree import order_tree, tree_words
from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom

QUICK_SECONDS = 0.3
LONGEST_LINE = 2_000_000


def effort_for(seconds: float | None, effort: int | None) -> int:
    """How hard to think: as said, else as much as fits the seconds (a little below a third of one, one look ahead)."""
    if effort is not None:
        return max(1, effort)
    return 1 if seconds is not None and seconds < QUICK_SECONDS else 2


def reason_file(room: WorldRoom, path: Path, effort: int, tree: int = 0) -> dict[str, Any]:
    """The answer to a case file; see `reason`.

    Raises:
        FirstpullError: what is wrong with the case.
    """
    return reason(room, read_case_file(path, room.book), effort, tree)


def reason(room: WorldRoom, case: Case, effort: int, tree: int = 0) -> dict[str, Any]:
    """The answer to a case, and where asked for the strategy so many steps deep, line by line."""
    session = start(room, case, effort)
    found = answer(session, depth=min(effort, 2))
    if tree:
        found["tree"] = tree_words(order_tree(session, tree).root)
    return found


def start(room: WorldRoom, case: Case, effort: int) -> Session:
    """A session with everything the case says."""
    return Session.of_case(case, room.worlds(case.machine, case.conditions, effort))


def play(room: WorldRoom, lines: TextIO, out: TextIO, effort: int) -> None:
    """Answer one line with one line until the input ends; a line that cannot be read leaves the job unharmed."""
    session: Session | None = None
    source: Any = getattr(lines, "buffer", lines)
    for line in source:
        text = line.decode("utf-8", "replace") if isinstance(line, bytes) else line
        if not text.strip():
            continue
        try:
            session, reply = _turn(room, session, text, effort)
        except FirstpullError as error:
            reply = {"error": error_dict(error)}
        except Exception as error:  # a fault of ours must not end the other jobs of a script
            what = f"a fault in the program itself: {type(error).__name__}: {error}"
            reply = {"error": error_dict(FirstpullError(what, "line", "report it; the job stands as it stood"))}
        out.write(json.dumps(reply, allow_nan=False) + "\n")
        out.flush()


def _turn(room: WorldRoom, session: Session | None, line: str, effort: int) -> tuple[Session, dict[str, Any]]:
    """The job after a line, and what is said of it; the job before it is left as it was."""
    raw = _read_line(line)
    if "new" in raw:
        after = start(room, read_case(raw["new"], room.book, "new"), effort)
    elif session is None:
        raise InputError("no job yet", "line", '{"new": CASE} first')
    else:
        after = session.copy()
        after.take(read_step(raw["step"], room.book), "step")
    return after, answer(after, depth=min(effort, 2))


def _read_line(line: str) -> Mapping[str, Any]:
    if len(line) > LONGEST_LINE:
        raise InputError(f"a line of {len(line)} letters", "line", f"at most {LONGEST_LINE}")
    try:
        raw = json.loads(line, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise InputError(f"not JSON: {error}", "line", '{"new": CASE} or {"step": {...}}') from error
    if not isinstance(raw, Mapping) or len({"new", "step"} & set(raw)) != 1:
        raise InputError("neither a new job nor a step", "line", '{"new": CASE} or {"step": {...}}')
    return raw


def _no_number(word: str) -> float:
    raise ValueError(f"{word} is not a number")


def error_dict(error: FirstpullError) -> dict[str, Any]:
    """An error as plain values, all its parts when there are several."""
    if isinstance(error, ManyErrors):
        first = error.errors[0].as_dict()
        return {**first, "all": [e.as_dict() for e in error.errors]}
    return {**error.as_dict(), "all": [error.as_dict()]}
