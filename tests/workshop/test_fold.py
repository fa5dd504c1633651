"""From events to the record of a job."""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.money import Money
from firstpull.workshop.events import KINDS, Event, from_line
from firstpull.workshop.fold import fold, money_of

OLD = Path(__file__).parent / "events_v1"
HUMAN = (
    "note",
    "reading",
    "access",
    "repair",
    "stage",
    "clock",
    "withdrawn",
    "handed-back",
    "levitated",
    "part",
)


def load(name: str) -> list[Event]:
    return [from_line(line) for line in (OLD / name).read_text(encoding="utf-8").splitlines()]


def event(seq: int, kind: str, body: Mapping[str, Any], act_id: str = "", **more: Any) -> Event:
    at = more.get("at", f"2026-04-11T09:{seq:02d}:00.000Z")
    return Event("J1", seq, act_id or f"a{seq}", 0, kind, more.get("version", 1), at, more.get("by", "sam"), body)


def test_a_whole_job_folds_to_what_happened() -> None:
    record = fold(load("no_spark_walk_mower.jsonl"))
    assert (record.number, record.machine_class, record.stage, record.closed) == (
        "101", "walk-mower-ohv", "handed-back", True,
    )  # fmt: skip
    assert record.spending_limit == Money.of("90.00", "EUR")
    assert [one.body["reading"] for one in record.readings] == ["dark", "lights"]
    assert [one.body["sum"]["amount"] for one in record.approvals] == ["35.00", "70.00"]
    assert record.minutes == 12 + 21
    assert record.lent == ()
    assert record.release is not None
    assert record.handed_back is not None
    assert (record.place, record.last_seq, record.words) == ("rack 4", 27, ("dead, nothing at all",))


def test_withdrawn_acts_count_nowhere_and_stay_listed() -> None:
    record = fold(load("surging_on_a_saturday.jsonl"))
    assert record.repairs == ()
    assert record.withdrawn == {"J102-a4"}
    assert "J102-a4" in [one.act_id for one in record.events]
    assert (record.told, record.comeback_of, record.cause_class, record.erased) == (
        ("stored-with-fuel",), "J99", "owner", True,
    )  # fmt: skip
    assert record.stamp == {"handbook": "h2"}


def test_an_undo_can_be_undone() -> None:
    events = [
        event(1, "note", {"text": "kept after all"}),
        event(2, "withdrawn", {"acts": ["a1"]}),
        event(3, "withdrawn", {"acts": ["a2"]}),
    ]
    assert len(fold(events[:2]).notes) == 0
    assert len(fold(events).notes) == 1


def test_an_undo_that_arrives_before_its_act_still_counts() -> None:
    assert fold([event(1, "withdrawn", {"acts": ["late"]}), event(2, "note", {"text": "x"}, "late")]).notes == ()


def test_a_withdrawn_release_is_no_release() -> None:
    events = [
        event(1, "opened", {}),
        event(2, "release", {"way": "working"}),
        event(3, "withdrawn", {"acts": ["a2"]}),
    ]
    record = fold(events)
    assert (record.release, record.stage) == (None, "received")


def test_a_job_without_its_opening_is_folded_all_the_same() -> None:
    record = fold([event(1, "reading", {"check": "k", "reading": "dark"})])
    assert (record.job, record.stage, len(record.readings)) == ("J1", "finding", 1)
    assert fold([], "J7").job == "J7"


def test_a_strap_that_was_not_taken_off_is_still_lent() -> None:
    events = [event(1, "lent", {"thing": "strap"}), event(2, "lent", {"thing": "plug", "state": "out"})]
    assert fold([*events, event(3, "lent", {"thing": "plug", "state": "back"})]).lent == ("strap",)


def test_waiting_ends_with_the_next_stage() -> None:
    events = [event(1, "stage", {"stage": "parts-ordered", "until": "2026-04-14", "promised": "2026-04-16"})]
    assert fold(events).waiting_until == "2026-04-14"
    record = fold([*events, event(2, "stage", {"stage": "parts-in"})])
    assert (record.waiting_until, record.promised) == ("", "2026-04-16")


def test_a_machine_handed_back_to_be_tried_stays_open() -> None:
    assert not fold([event(1, "opened", {}), event(2, "handed-back", {"keep_open": True})]).closed


@pytest.mark.parametrize(
    "body", [None, {}, {"amount": "x", "currency": "EUR"}, {"amount": "1", "currency": "e"}, 3, "3"]
)
def test_what_is_no_money_counts_as_none(body: Any) -> None:
    assert money_of(body) is None


@given(st.randoms(use_true_random=False))
def test_the_order_of_arrival_in_the_list_does_not_matter(order: random.Random) -> None:
    events = load("no_spark_walk_mower.jsonl")
    shuffled = list(events)
    order.shuffle(shuffled)
    assert fold(shuffled) == fold(events)


@given(
    st.lists(
        st.tuples(
            st.sampled_from([*KINDS, "levitated"]),
            st.dictionaries(
                st.sampled_from(["acts", "state", "stage", "text", "check", "words", "until", "stamp", "sum", "told"]),
                st.none() | st.text(max_size=4) | st.integers() | st.lists(st.text(max_size=3), max_size=2),
                max_size=4,
            ),
        ),
        max_size=12,
    )
)
def test_no_body_however_odd_stops_the_folding(acts: list[tuple[str, dict[str, Any]]]) -> None:
    record = fold([event(seq, kind, body) for seq, (kind, body) in enumerate(acts, 1)])
    assert len(record.events) == len(acts)
