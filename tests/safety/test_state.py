"""What is off or added is folded from moves, and from nothing else."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from firstpull.handbook.entries import Access
from firstpull.safety.state import MachineState, Position, at_rest


def _item(name: str, added: bool = False, tokens: tuple[str, ...] = ()) -> Access:
    return Access(
        id=name, name=name, source="judgement", added=added, tokens=tokens or (name,), off_minutes=1, on_minutes=1
    )


ITEMS = {i.id: i for i in (_item("plug"), _item("cover", tokens=("shroud", "rope")), _item("strap", added=True))}
MOVES = st.lists(st.tuples(st.sampled_from([*ITEMS, "unheard-of"]), st.sampled_from(["off", "on"])), max_size=12)


def test_a_machine_comes_in_whole_with_nothing_of_ours_on_it() -> None:
    state = at_rest(ITEMS)
    assert {i: state.position(i) for i in ITEMS} == {"plug": "on", "cover": "on", "strap": "off"}
    assert state.tokens == frozenset()


def test_tokens_are_those_of_what_is_off_and_of_what_is_added() -> None:
    state = at_rest(ITEMS).with_moves([("cover", "off"), ("strap", "on")])
    assert state.off_tokens == {"shroud", "rope"}
    assert state.added_tokens == {"strap"}
    assert state.tokens == {"shroud", "rope", "strap"}


def test_an_item_that_the_class_does_not_have_stands_in_nobodys_way() -> None:
    state = at_rest(ITEMS)
    assert state.moved("unheard-of", "off") == state
    assert state.is_at("unheard-of", "off")
    assert state.is_at("unheard-of", "on")


@given(MOVES)
def test_the_last_move_of_each_item_decides_where_it_stands(moves: list[tuple[str, Position]]) -> None:
    state = at_rest(ITEMS).with_moves(moves)
    last = {i: p for i, p in moves if i in ITEMS}
    assert {i: state.position(i) for i in last} == last
    assert state.said == set(last)
    assert all(state.position(i) == at_rest(ITEMS).position(i) for i in ITEMS if i not in last)


def test_what_a_reading_implies_is_kept_apart_from_what_was_recorded() -> None:
    state = at_rest(ITEMS).with_moves([("plug", "off")], implied=True)
    assert state.away == state.implied == {"plug"}
    assert state.said == frozenset()
    recorded = state.moved("plug", "off")
    assert recorded.implied == frozenset()
    assert recorded.said == {"plug"}
    back = state.moved("plug", "on", implied=True)
    assert (back.away, back.implied) == (frozenset(), frozenset())


def test_a_move_clears_the_doubt_about_where_an_item_stands() -> None:
    state = MachineState(ITEMS, unknown=frozenset({"plug"}))
    assert state.moved("plug", "on").unknown == frozenset()
