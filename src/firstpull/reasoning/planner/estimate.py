"""The likely value of each step from a search that is not finished: look-ahead at the leaves, carried up the tree."""

from __future__ import annotations

import numpy as np

from firstpull.reasoning.planner.children import unused_checks
from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.search import PROVEN, Node

MOST_NODES = 1500


def estimates(ahead: LookAhead, root: Node) -> dict[int, float]:
    """Estimate the expected cost of every step of a node that the search has looked into.

    Args:
        ahead: the look-ahead of the same model [1], scalar.
        root: a node of its search [1], scalar.

    Returns:
        Expected cost [cost] by action, kept inside the proven bounds, scalar.

    Raises:
        Nothing.

    Valid:
        any node; one without looked-into steps gives nothing.

    Source:
        judgement.
    """
    order = _explored(root)
    value = _leaf_values(ahead, [node for node in order if node.options is None])
    for node in reversed(order):
        if id(node) not in value and node is not root:
            value[id(node)] = min([node.high, *_steps(node, value).values()])
            value[id(node)] = max(value[id(node)], node.low)
    return _steps(root, value)


def _steps(node: Node, value: dict[int, float]) -> dict[int, float]:
    found = {}
    for option in node.options or []:
        if option.kids is not None:
            later = sum(
                chance * value.get(id(kid), kid.high) for kid, chance in zip(option.kids, option.chance, strict=True)
            )
            found[option.action] = max(option.cost + later, option.low)
    return found


def _explored(root: Node) -> list[Node]:
    """Nodes below the root whose value is open, the nearest first, each once and after what leads to it."""
    found, seen, turn = [root], {id(root)}, 0
    while turn < len(found) and len(found) < MOST_NODES:
        node = found[turn]
        turn += 1
        for option in node.options or []:
            for kid in option.kids or []:
                if id(kid) not in seen and kid.gap > PROVEN * kid.low:
                    seen.add(id(kid))
                    found.append(kid)
    return found


def _leaf_values(ahead: LookAhead, leaves: list[Node]) -> dict[int, float]:
    """The look-ahead's value of nodes not worked out, inside their bounds, many at once."""
    found: dict[int, float] = {}
    for access in sorted({leaf.access for leaf in leaves}):
        part = [leaf for leaf in leaves if leaf.access == access]
        beliefs = np.array([leaf.belief for leaf in part])
        values = ahead.values(beliefs, access, unused_checks(ahead.model, [leaf.used for leaf in part]))
        for leaf, guess in zip(part, values.min(axis=1).tolist(), strict=True):
            found[id(leaf)] = min(max(guess, leaf.low), leaf.high)
    return found
