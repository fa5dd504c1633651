"""Moves reach what is wished for, what must come first always first, or it is told what stays out of reach."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.handbook.read import load
from firstpull.handbook.select import ClassBook, for_class
from firstpull.safety.moves import Move, plan_moves
from firstpull.safety.state import MachineState, Position, at_rest

BOOK = load()
CLASSES = {m: for_class(BOOK, m) for m in BOOK.machines}
MOWER = CLASSES["walk-mower-ohv"]


def may_move(state: MachineState, item: str) -> bool:
    """Whether all that must come first before an item moves is so."""
    first = state.items[item].first
    return all(state.is_at(i, "off") for i in first.off) and all(state.is_at(i, "on") for i in first.on)


def walked(state: MachineState, moves: list[Move]) -> MachineState:
    """Where the moves lead; each must change something and keep to what comes first."""
    for move in moves:
        assert not state.is_at(move.item, move.position), f"{move.item} was {move.position} before"
        assert may_move(state, move.item), f"{move.item} {move.position} before its turn"
        state = state.moved(move.item, move.position)
    return state


def wander(book: ClassBook, items: list[str]) -> MachineState:
    """A way that the machine can stand: each item in turn to the other side, where it may move."""
    state = at_rest(book.access)
    for item in items:
        if item in book.access and may_move(state, item):
            state = state.moved(item, "off" if state.position(item) == "on" else "on")
    return state


WANDERS = st.lists(st.sampled_from(sorted(BOOK.access)), max_size=25)
CLASS = st.sampled_from(sorted(CLASSES))


@pytest.mark.parametrize("machine", sorted(CLASSES))
def test_every_item_goes_and_comes_back(machine: str) -> None:
    book = CLASSES[machine]
    for item, entry in book.access.items():
        there: Position = "on" if entry.added else "off"
        moves = plan_moves(at_rest(book.access), *_wish(item, there), book.minutes)
        state = walked(at_rest(book.access), moves)
        assert state.is_at(item, there), f"{machine}: {item}"
        back = plan_moves(state, [i for i in state.away if book.access[i].added],
                          [i for i in state.away if not book.access[i].added], book.minutes)
        assert walked(state, back).away == frozenset(), f"{machine}: {item} and back"


def _wish(item: str, there: Position) -> tuple[list[str], list[str]]:
    return ([item], []) if there == "off" else ([], [item])


@given(CLASS, WANDERS)
def test_everything_goes_back_from_however_it_stands(machine: str, items: list[str]) -> None:
    book = CLASSES[machine]
    state = wander(book, items)
    off = [i for i in state.away if book.access[i].added]
    on = [i for i in state.away if not book.access[i].added]
    assert walked(state, plan_moves(state, off, on, book.minutes)).away == frozenset()


@given(CLASS, WANDERS, WANDERS)
def test_any_way_it_can_stand_is_reached_from_any_other(machine: str, first: list[str], then: list[str]) -> None:
    book = CLASSES[machine]
    state, wish = wander(book, first), wander(book, then)
    off = [i for i in wish.items if wish.position(i) == "off"]
    on = [i for i in wish.items if wish.position(i) == "on"]
    assert walked(state, plan_moves(state, off, on, book.minutes)).away == wish.away


@given(CLASS, WANDERS, WANDERS, st.lists(st.sampled_from(sorted(BOOK.access)), max_size=4))
def test_a_part_of_a_way_it_can_stand_is_reached(
    machine: str, first: list[str], then: list[str], asked: list[str]
) -> None:
    book = CLASSES[machine]
    state, wish = wander(book, first), wander(book, then)
    named = [i for i in asked if i in book.access]
    moves = plan_moves(
        state, [i for i in named if wish.position(i) == "off"], [i for i in named if wish.position(i) == "on"],
        book.minutes,
    )
    after = walked(state, moves)
    assert {i: after.position(i) for i in named} == {i: wish.position(i) for i in named}
