"""Runs every benchmark, prints the table and writes results.json beside this file.

`python -m benchmarks.run [--full]`: without --full the long ones run shortened.
"""

from __future__ import annotations

import importlib
import json
import sys
import time
from pathlib import Path
from typing import Any

PARTS = (
    "benchmarks.engine", "benchmarks.gas_side", "benchmarks.machine", "benchmarks.limits", "benchmarks.reasoning",
    "benchmarks.planner.run", "benchmarks.paper",
)
RESULTS = Path(__file__).with_name("results.json")
KEYS = ("name", "value", "unit", "better", "goal", "met", "anchor", "anchor_value", "ratio")


def collect(quick: bool) -> list[dict[str, Any]]:
    """The rows of all parts, each with exactly the agreed keys."""
    found = []
    for name in PARTS:
        began = time.perf_counter()
        part = importlib.import_module(name).rows(quick)
        found += [{key: entry.get(key) for key in KEYS} for entry in part]
        print(f"{name}: {time.perf_counter() - began:.0f} s", file=sys.stderr, flush=True)
    return found


def line(entry: dict[str, Any]) -> str:
    """A row of the table for people."""
    goal = "" if entry["goal"] is None else f"goal {entry['goal']:g}"
    met = {True: "met", False: "MISSED", None: ""}[entry["met"]]
    ratio = "" if entry["ratio"] is None else f"x{entry['ratio']:.4g} of {entry['anchor']}"
    return f"{entry['name'][:64]:<64} {entry['value']:>12.5g} {entry['unit']:<10} {goal:<14} {met:<7} {ratio}".rstrip()


def main() -> None:
    """Print the table and write it down."""
    table = collect(quick="--full" not in sys.argv)
    for entry in table:
        print(line(entry))
    RESULTS.write_text(json.dumps(table, indent=1, default=float) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
