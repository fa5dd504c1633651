"""Undo, and undo of the undo."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.workshop.events import Event
from firstpull.workshop.withdrawn import standing, withdrawn_acts


def event(seq: int, act: str, undoes: Sequence[str] = ()) -> Event:
    kind, body = ("withdrawn", {"acts": list(undoes)}) if undoes else ("note", {"text": act})
    return Event("J1", seq, act, 0, kind, 1, "2026-04-11T09:00:00.000Z", "sam", body)


@pytest.mark.parametrize(
    ("undos", "gone"),
    [
        ([], set()),
        ([("u1", ["a"])], {"a"}),
        ([("u1", ["a", "b"])], {"a", "b"}),
        ([("u1", ["a"]), ("u2", ["u1"])], {"u1"}),
        ([("u1", ["a"]), ("u2", ["u1"]), ("u3", ["u2"])], {"a", "u2"}),
        ([("u1", ["nobody"])], {"nobody"}),
        ([("u1", ["u1"])], {"u1"}),
    ],
)
def test_each_undo_takes_back_what_it_names(undos: list[tuple[str, list[str]]], gone: set[str]) -> None:
    events = [event(1, "a"), event(2, "b"), *(event(n, act, acts) for n, (act, acts) in enumerate(undos, 3))]
    assert withdrawn_acts(events) == gone
    assert [one.act_id for one in standing(events)] == [one.act_id for one in events if one.act_id not in gone]


@given(st.permutations([event(1, "a"), event(2, "u1", ["a"]), event(3, "u2", ["u1"]), event(4, "b")]))
def test_the_order_of_the_list_does_not_matter(events: list[Event]) -> None:
    assert [one.act_id for one in standing(events)] == ["a", "u2", "b"]


def test_an_undo_takes_back_every_event_of_a_shared_act() -> None:
    events = [event(1, "round"), event(2, "round"), event(3, "other"), event(4, "u", ["round"])]
    assert [one.act_id for one in standing(events)] == ["other", "u"]
