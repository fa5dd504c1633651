"""Events, their kinds, and old ones for ever."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError, ManyErrors
from firstpull.workshop import bodies
from firstpull.workshop.events import (
    KINDS,
    Event,
    Kind,
    as_line,
    canonical,
    check,
    current,
    from_line,
    is_known,
    new_event,
)
from firstpull.workshop.fold import fold

OLD = sorted((Path(__file__).parent / "events_v1").glob("*.jsonl"))
AT = "2026-04-11T09:00:00.000Z"
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=12,
)


def old_events(path: Path) -> list[Event]:
    return [from_line(line) for line in path.read_text(encoding="utf-8").splitlines()]


@pytest.mark.parametrize("path", OLD, ids=lambda path: path.stem)
def test_events_of_the_first_version_reload_for_ever(path: Path) -> None:
    events = old_events(path)
    assert all(is_known(current(event)) for event in events if event.kind != "levitated")
    assert fold(events).unknown == tuple(event for event in events if event.kind == "levitated")


def test_the_old_events_hold_every_kind_there_was() -> None:
    seen = {event.kind for path in OLD for event in old_events(path)}
    assert seen >= set(KINDS)


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("reading", {"reading": "dark"}),
        ("reading", {"check": "", "reading": "dark"}),
        ("reading", {"check": "spark-at-tester"}),
        ("access", {"item": "cover", "state": "ajar"}),
        ("approval", {"to": "mend", "yes": True, "sum": {"amount": 12.5, "currency": "EUR"}}),
        ("approval", {"to": "mend", "yes": True, "sum": {"amount": "12.50", "currency": "euro"}}),
        ("withdrawn", {"acts": []}),
        ("part", {"part": "coil", "state": "ordered", "quantity": 0}),
        ("release", {"way": "somehow"}),
        ("rebased", {}),
        ("levitated", {"height": float("nan")}),
        ("levitated", {"height": object()}),
        ("levitated", {"long": "x" * 1_000_001}),
    ],
)
def test_a_body_that_cannot_be_read_is_refused(kind: str, body: dict[str, Any]) -> None:
    with pytest.raises(FirstpullError):
        new_event("J1", kind, body, by="sam", at=AT, act_id="a")


@pytest.mark.parametrize(
    "change",
    [
        {"job": ""},
        {"by": " "},
        {"act_id": "x" * 201},
        {"at": "yesterday"},
        {"based_on": -1},
        {"job": "a\x00"},
    ],
)
def test_an_event_without_a_proper_name_or_moment_is_refused(change: dict[str, Any]) -> None:
    facts: dict[str, Any] = {"job": "J1", "by": "sam", "at": AT, "act_id": "a", "based_on": 0, **change}
    with pytest.raises(FirstpullError):
        new_event(kind="note", body={"text": "x"}, **facts)


def test_all_faults_come_at_once() -> None:
    with pytest.raises(ManyErrors) as caught:
        new_event("", "reading", {}, by="", at="never", act_id="a")
    assert len(caught.value.errors) == 5


def test_an_id_of_no_handbook_is_a_fact_like_any_other() -> None:
    event = new_event("J1", "reading", {"check": "own-trick", "reading": 3}, by="sam", at=AT, act_id="a")
    assert is_known(event)


def test_a_moment_of_another_zone_is_kept_in_utc() -> None:
    event = new_event("J1", "note", {"text": "x"}, by="sam", at="2026-04-11T11:00:00+02:00", act_id="a")
    assert event.at == AT


def test_entered_late_it_still_happened_when_it_happened() -> None:
    body = {"text": "x", "when": "2026-04-11T08:00:00.000Z"}
    assert new_event("J1", "note", body, by="sam", at=AT, act_id="a").when == body["when"]


@given(JSON)
def test_a_line_gives_back_the_event(body: Any) -> None:
    event = Event("J1", 3, "a", 2, "levitated", 7, AT, "sam", json.loads(canonical({"body": body})))
    assert from_line(as_line(event)) == event


@given(JSON)
def test_an_unknown_kind_is_never_refused(body: Any) -> None:
    event = Event("J1", 0, "a", 0, "levitated", 7, AT, "sam", {"body": body})
    assert check(check(event)) == check(event)


@pytest.mark.parametrize("line", ["", "{}", "[]", "null", '{"job":1}', "{" * 2000])
def test_a_line_that_is_no_event_is_refused(line: str) -> None:
    with pytest.raises(FirstpullError):
        from_line(line)


class _Third(bodies.Body):
    gap_mm: float
    tool: str


_KINDS = {
    "gap": Kind(
        "gap",
        _Third,
        version=3,
        upcasts={
            1: lambda body: {"gap_mm": round(body["gap_thou"] * 0.0254, 4)},
            2: lambda body: {**body, "tool": "feeler"},
        },
    )
}


@pytest.mark.parametrize(
    ("version", "body"),
    [(1, {"gap_thou": 10}), (2, {"gap_mm": 0.254}), (3, {"gap_mm": 0.254, "tool": "feeler"})],
)
def test_each_older_version_becomes_the_current_one(version: int, body: dict[str, Any]) -> None:
    event = current(Event("J1", 1, "a", 0, "gap", version, AT, "sam", body), _KINDS)
    assert (event.version, dict(event.body)) == (3, {"gap_mm": 0.254, "tool": "feeler"})
    assert is_known(event, _KINDS)


def test_a_version_of_a_newer_program_is_left_as_it_is() -> None:
    event = Event("J1", 1, "a", 0, "gap", 4, AT, "sam", {"gap_m": 2.54e-4})
    assert current(event, _KINDS) == event
    assert not is_known(event, _KINDS)


def test_a_kind_that_forgets_an_upcast_cannot_be_declared() -> None:
    with pytest.raises(FirstpullError):
        Kind("gap", _Third, version=3, upcasts={1: dict})
