"""What the gates read: the modules of the package as text and as trees."""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "firstpull"
TESTS = ROOT / "tests"


def modules(room: str = "") -> list[Path]:
    """All modules of a room (of the package, when none is named)."""
    return sorted((PACKAGE / room).rglob("*.py"))


def name_of(path: Path) -> str:
    """A module's path below the package."""
    return path.relative_to(PACKAGE).as_posix()


def tree_of(path: Path) -> ast.Module:
    """A module as a tree."""
    return ast.parse(path.read_text(encoding="utf-8"))
