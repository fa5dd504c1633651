"""Modules stay small enough to be read in one sitting, functions small enough to be seen at once."""

from __future__ import annotations

import ast

from tests.gates.source import modules, name_of, tree_of

LONGEST_MODULE = 400
LONGEST_FUNCTION = 60


def _code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its docstring."""
    body = node.body[1:] if ast.get_docstring(node) is not None else node.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    lengths = {name_of(p): len(p.read_text(encoding="utf-8").splitlines()) for p in modules()}
    assert {n: k for n, k in lengths.items() if k > LONGEST_MODULE} == {}


def test_nine_modules_in_ten_stay_below_three_hundred_lines() -> None:
    lengths = sorted(len(p.read_text(encoding="utf-8").splitlines()) for p in modules())
    assert lengths[int(0.9 * len(lengths))] < 300


def test_no_function_is_longer_than_sixty_lines_of_code() -> None:
    long = {
        f"{name_of(p)}:{n.name}": _code_lines(n)
        for p in modules()
        for n in ast.walk(tree_of(p))
        if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef) and _code_lines(n) > LONGEST_FUNCTION
    }
    assert long == {}
