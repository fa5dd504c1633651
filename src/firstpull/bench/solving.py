"""The planner alone on an abstract troubleshooting problem."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any, TextIO

from firstpull.reasoning.planner.play import play
from firstpull.reasoning.planner.reading import read_problem
from firstpull.reasoning.planner.solve import solve_file

PLAY_SECONDS = 0.05
SOLVE_SECONDS = 10.0


def solve_problem(path: Path, seconds: float | None) -> dict[str, Any]:
    """First action, expected cost, lower bound, gap and whether that is proven; a gap above a bound of zero is null.

    Raises:
        FirstpullError: everything that is wrong with the problem file.
    """
    found: dict[str, Any] = dict(solve_file(path, SOLVE_SECONDS if seconds is None else seconds))
    if not math.isfinite(found["gap"]):
        found["gap"] = None
    return found


def play_problem(path: Path, lines: TextIO, out: TextIO, seconds: float | None) -> None:
    """Follow the policy line by line.

    Raises:
        FirstpullError: everything that is wrong with the problem file.
    """
    play(lines, out, read_problem(path), PLAY_SECONDS if seconds is None else seconds)
