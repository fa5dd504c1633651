"""Which moves, in which order, bring the machine from how it stands to how a step needs it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstpull.safety.state import MachineState, Position

MOST_MOVES = 60


@dataclass(frozen=True, slots=True)
class Move:
    """One access move and its minutes."""

    item: str
    position: Position
    minutes: float


def plan_moves(
    state: MachineState,
    off: Iterable[str],
    on: Iterable[str],
    minutes: Mapping[str, tuple[float, float]],
) -> list[Move]:
    """Moves that leave these items off and on, each item's own prerequisites first.

    An item that had to be moved only to reach another is put right again when it is itself asked for; otherwise it
    stays as it is. Items this class does not have are passed over.
    """
    wanted: dict[str, Position] = {i: "off" for i in off if i in state.items}
    wanted.update({i: "on" for i in on if i in state.items})
    if all(state.position(item) == position for item, position in wanted.items()):
        return []
    moves: list[Move] = []
    # A second round puts back what the first had to disturb; more would mean that two wishes contradict.
    for _ in range(3):
        before = len(moves)
        for item in sorted(wanted, key=lambda i: _rank(state, i, wanted[i])):
            state = _reach(state, item, wanted[item], minutes, moves, frozenset())
        if len(moves) == before:
            break
    return moves


def _rank(state: MachineState, item: str, position: Position) -> tuple[int, int]:
    """Take off from the outside in, put on from the inside out; what we add comes off first and on last."""
    entry = state.items[item]
    to_rest = (position == "on") != entry.added
    if item not in state.depths:
        state.depths[item] = _depth(state, item, frozenset())
    depth = state.depths[item]
    if entry.added:
        return (0, -depth) if to_rest else (3, depth)
    return (2, -depth) if to_rest else (1, depth)


def _depth(state: MachineState, item: str, above: frozenset[str]) -> int:
    """How many things stand before an item."""
    first = state.items[item].first
    below = [i for i in (*first.off, *first.on) if i in state.items and i not in above and i != item]
    return 1 + max((_depth(state, i, above | {item}) for i in below), default=0)


def _reach(
    state: MachineState,
    item: str,
    position: Position,
    minutes: Mapping[str, tuple[float, float]],
    moves: list[Move],
    above: frozenset[str],
) -> MachineState:
    """Bring one item to a position, what must come first before it."""
    if state.position(item) == position or item in above or len(moves) > MOST_MOVES:
        return state
    first = state.items[item].first
    for needed, there in [*((i, "off") for i in first.off), *((i, "on") for i in first.on)]:
        if needed in state.items:
            state = _reach(state, needed, "off" if there == "off" else "on", minutes, moves, above | {item})
    off_minutes, on_minutes = minutes.get(item, (state.items[item].off_minutes, state.items[item].on_minutes))
    moves.append(Move(item, position, off_minutes if position == "off" else on_minutes))
    return state.moved(item, position)


