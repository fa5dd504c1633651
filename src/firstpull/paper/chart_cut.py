"""Cuts a strategy tree into charts that stay legible, one page each."""

from dataclasses import replace

from firstpull.paper.chart_layout import Drawing, lay_out
from firstpull.paper.parts import Node


def parts_that_fit(tree: Node, width: float, height: float, least: float) -> list[Node]:
    """The tree cut into charts that stay legible on one page each; a cut step says on which chart it goes on.

    A chart that cannot be cut any further is left as it is.
    """
    waiting = [tree]
    done: list[Node] = []
    while waiting:
        root = waiting.pop(0)
        while scale_of(lay_out(root), width, height) < least:
            cut = _best_cut(root)
            if cut is None:
                break
            number = len(done) + len(waiting) + 2
            stub = Node(cut.title, cut.kind, cut.minutes, cut.caution, f"Goes on in chart {number}.")
            waiting.append(cut)
            root = _replaced(root, cut, stub)
        done.append(root)
    return done


def scale_of(drawing: Drawing, width: float, height: float) -> float:
    """How far a drawing must be scaled to stand in a room."""
    return min(width / drawing.width, height / drawing.height)


def _steps(node: Node) -> int:
    return 1 + sum(_steps(branch.to) for branch in node.branches)


def _best_cut(root: Node) -> Node | None:
    """The largest later step that has steps after it and holds at most half of the chart, else the smallest."""
    inner = [node for node in _inner(root) if node is not root]
    half = [node for node in inner if 2 * _steps(node) <= _steps(root)]
    if half:
        return max(half, key=_steps)
    return min(inner, key=_steps, default=None)


def _inner(node: Node) -> list[Node]:
    """Every step that has steps after it."""
    if not node.branches:
        return []
    return [node, *(inner for branch in node.branches for inner in _inner(branch.to))]


def _replaced(node: Node, old: Node, new: Node) -> Node:
    if node is old:
        return new
    branches = tuple(replace(branch, to=_replaced(branch.to, old, new)) for branch in node.branches)
    return replace(node, branches=branches) if branches else node
