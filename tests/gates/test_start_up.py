"""The command and its help start without the heavy libraries."""

from __future__ import annotations

import json
import subprocess
import sys

HEAVY = ("scipy", "numpy", "sqlalchemy", "fastapi", "typst", "matplotlib", "babel")


def _loaded_by(code: str) -> set[str]:
    script = f"import json, sys\n{code}\nprint(json.dumps(sorted({{m.split('.')[0] for m in sys.modules}})))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return set(json.loads(done.stdout.splitlines()[-1]))


def test_the_command_line_starts_light() -> None:
    assert _loaded_by("import firstpull.cli.main") & set(HEAVY) == set()


def test_reasoning_is_imported_without_scipy() -> None:
    assert "scipy" not in _loaded_by("import firstpull.bench.stateless")
