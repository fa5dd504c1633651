"""The command as a person at a shell runs it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path


class Shell:
    """Runs `firstpull` in a data folder of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.environment = {**os.environ, "FIRSTPULL_DATA": str(folder / "data")}

    def run(self, *words: str, answer: str = "") -> subprocess.CompletedProcess[str]:
        """Run it and return what it said, whatever that was."""
        return subprocess.run(
            [sys.executable, "-m", "firstpull.cli.main", *words], cwd=self.folder, env=self.environment,
            input=answer, capture_output=True, text=True, timeout=180, check=False,
        )

    def said(self, *words: str, answer: str = "") -> str:
        """Run it and return what it printed; it must have gone well."""
        done = self.run(*words, answer=answer)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def refused(self, *words: str) -> str:
        """Run it and return the one message with which it refused, without a traceback."""
        done = self.run(*words)
        assert done.returncode == 2, done.stdout
        assert "Traceback" not in done.stderr
        return done.stderr

    def take_in(self) -> str:
        """A mower that will not start, limit 80."""
        return self.said("job", "take-in", "--who", "Ada Fenwright", "--number", "0555 0101", "--complaint",
                         "won't start", "--limit", "80", "--machine", "walk-mower-ohv").strip()
