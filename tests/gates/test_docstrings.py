"""Every public numeric function says shape, unit, errors, source and valid range.

Rules in engine/wiring only join physics by name and are left out: what they join stands documented in its own file.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.gates.source import modules, name_of, tree_of

ROOMS = ("engine", "gauges", "reasoning")
ARRAYS = re.compile(r"FloatArray|NDArray|Floats|Ints")
UNIT = re.compile(r"\[[^\[\]\n]+\]")
SHAPE = re.compile(r"scalar|shape \(")
SECTIONS = ("Args", "Returns", "Raises", "Valid", "Source")


def sections(docstring: str) -> dict[str, str]:
    """The sections of a docstring by name."""
    found: dict[str, list[str]] = {}
    now: str | None = None
    for line in docstring.splitlines():
        match = re.match(rf"^\s*({'|'.join(SECTIONS)}):(.*)$", line)
        if match:
            now = match[1]
            found[now] = [match[2]]
        elif now is not None:
            found[now].append(line)
    return {name: "\n".join(lines).strip() for name, lines in found.items()}


def entries(text: str) -> dict[str, str]:
    """The arguments that a section describes."""
    found: dict[str, str] = {}
    now: str | None = None
    for line in text.splitlines():
        match = re.match(r"^\s*\*{0,2}(\w+): (.*)$", line)
        if match and (now is None or not line.startswith(" " * 12)):
            now = match[1]
            found[now] = match[2]
        elif now is not None:
            found[now] += " " + line.strip()
    return found


def is_numeric(function: ast.FunctionDef) -> bool:
    """Whether a function takes or gives arrays, or gives a number."""
    notes = [a.annotation for a in [*function.args.args, *function.args.kwonlyargs]]
    texts = [ast.unparse(n) for n in [*notes, function.returns] if n is not None]
    gives = ast.unparse(function.returns) if function.returns is not None else ""
    return any(ARRAYS.search(t) for t in texts) or gives == "float"


def raised_by(function: ast.FunctionDef) -> set[str]:
    """The errors that a function itself raises."""
    calls = [n.exc for n in ast.walk(function) if isinstance(n, ast.Raise) and isinstance(n.exc, ast.Call)]
    return {c.func.id for c in calls if isinstance(c.func, ast.Name)}


def faults(function: ast.FunctionDef) -> list[str]:
    """What the docstring of a numeric function lacks."""
    held = sections(ast.get_docstring(function) or "")
    told = entries(held.get("Args", ""))
    found = []
    for argument in [*function.args.args, *function.args.kwonlyargs]:
        text = told.get(argument.arg, "")
        if not UNIT.search(text):
            found.append(f"{argument.arg} has no [unit]")
        if not SHAPE.search(text):
            found.append(f"{argument.arg} has no shape")
    if not UNIT.search(held.get("Returns", "")):
        found.append("the result has no [unit]")
    found += [f"raises {name}, not in Raises" for name in raised_by(function) - set(entries(held.get("Raises", "")))]
    found += [f"no {name}" for name in ("Valid", "Source") if not held.get(name)]
    return found


@pytest.mark.parametrize("path", [p for room in ROOMS for p in modules(room) if "wiring" not in p.parts], ids=name_of)
def test_public_numeric_functions_say_unit_shape_errors_range_and_source(path: Path) -> None:
    wrong = [
        f"{f.name}: {fault}"
        for f in tree_of(path).body
        if isinstance(f, ast.FunctionDef) and not f.name.startswith("_") and is_numeric(f)
        for fault in faults(f)
    ]
    assert not wrong, "\n".join(wrong)
