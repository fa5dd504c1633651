"""Every access item can be moved and put back, or the handbook is refused."""

from __future__ import annotations

from firstpull.handbook.entries import Access, Needs
from firstpull.handbook.moves import stuck


def items(**first: tuple[bool, tuple[str, ...], tuple[str, ...]]) -> dict[str, Access]:
    """Access items by name: whether added, what must be off, what must be on before they are moved."""
    return {
        name: Access(
            id=name,
            name=name,
            source="judgement",
            added=added,
            tokens=(),
            off_minutes=1,
            on_minutes=1,
            first=Needs(off=off, on=on),
        )
        for name, (added, off, on) in first.items()
    }


def test_a_plug_and_its_lead_come_off_one_after_the_other_and_go_back() -> None:
    assert stuck(items(plug=(False, ("lead",), ()), lead=(False, (), ("plug",)))) == []


def test_two_things_that_each_wait_for_the_other_to_be_off_are_stuck() -> None:
    assert stuck(items(a=(False, ("b",), ()), b=(False, ("a",), ()), c=(False, ("a",), ()))) == ["a", "b", "c"]


def test_a_thing_that_waits_for_itself_is_stuck() -> None:
    assert stuck(items(a=(False, ("a",), ()))) == ["a"]
    assert stuck(items(a=(False, (), ("a",)))) == ["a"]  # it comes off and can never go back


def test_an_added_thing_begins_off() -> None:
    assert stuck(items(drill=(True, ("cover",), ()), cover=(False, ("drill",), ()))) == []
    assert stuck(items(drill=(True, (), ("clip",)), clip=(True, (), ("drill",)))) == ["drill", "clip"]


def test_an_unknown_item_holds_nothing_up() -> None:
    assert stuck(items(a=(False, ("nowhere",), ("never",)))) == []


def test_a_long_row_is_followed_to_its_end() -> None:
    row = {f"i{n}": (False, (f"i{n - 1}",) if n else (), ()) for n in range(12)}
    assert stuck(items(**row)) == []
