"""Runs make targets as one section of the tests and writes down how long they took.

`section.py NAME TARGET...` runs, `section.py --report` prints all sections and what they took together.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TIMES = ROOT / ".venv" / "sections.txt"


def run(name: str, targets: list[str]) -> int:
    """Run the targets one after another; the first that fails ends the section."""
    began = time.monotonic()
    print(f"== {name}", flush=True)
    code = 0
    for target in targets:
        # A fresh make, so that a failing section says which target failed.
        command = [os.environ.get("MAKE", "make"), "--no-print-directory", target]
        code = subprocess.run(command, cwd=ROOT, check=False).returncode
        if code:
            break
    with TIMES.open("a", encoding="utf-8") as times:
        times.write(f"{time.monotonic() - began:.1f}\t{name}\n")
    return code


def report() -> int:
    """Print what each section took."""
    rows = [line.split("\t") for line in TIMES.read_text(encoding="utf-8").splitlines()]
    for seconds, name in rows:
        print(f"{float(seconds):8.1f} s  {name}")
    print(f"{sum(float(s) for s, _ in rows):8.1f} s  together")
    return 0


if __name__ == "__main__":
    sys.exit(report() if sys.argv[1] == "--report" else run(sys.argv[1], sys.argv[2:]))
