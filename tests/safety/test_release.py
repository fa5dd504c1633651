"""The door out as working opens only on proof; the door out as it stands is always open."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.handbook.book import Book
from firstpull.handbook.entries import Access, ReleaseProof
from firstpull.handbook.select import for_class
from firstpull.safety.interlocks import NEVER_RUN_WITHOUT
from firstpull.safety.release import Result, Shown, may_leave_working, may_return
from firstpull.safety.state import at_rest


def _proof(name: str, safety: bool, times: int = 1) -> ReleaseProof:
    return ReleaseProof(id=name, name=name, source="judgement", check="x", safety=safety, times=times)


def _item(name: str, token: str, added: bool = False, forbids: str = "") -> Access:
    return Access(
        id=name,
        name=name,
        source="judgement",
        added=added,
        tokens=(token,),
        off_minutes=1,
        on_minutes=1,
        forbids=forbids,
    )


ITEMS = {
    "hose": _item("hose", "fuel-hose"),
    "cap": _item("cap", "fuel-cap"),
    "screen": _item("screen", "screen", forbids="Not without it."),
    "strap": _item("strap", "control-held", added=True),
}
WHOLE = at_rest(ITEMS)
STOPS = {"stops": _proof("stops", True, times=3)}
RESULTS: tuple[Result, ...] = ("passed", "failed", "undecided", "missing")


@pytest.mark.parametrize("results", [r for n in range(4) for r in product(RESULTS, repeat=n)])
def test_only_three_passes_in_a_row_at_the_end_open_the_door(results: tuple[Result, ...]) -> None:
    verdict = may_leave_working(WHOLE, STOPS, {"stops": Shown("stops", results)})
    assert verdict.allowed == (results == ("passed",) * 3)


def test_a_failure_is_outlived_by_enough_later_passes() -> None:
    assert Shown("x", ("failed", "passed", "passed", "passed")).result(3) == "passed"
    assert Shown("x", ("passed", "passed", "failed", "passed", "passed")).result(3) == "failed"
    assert Shown("x", ("passed", "undecided")).result(1) == "undecided"


@given(st.sampled_from(RESULTS), st.text(max_size=20))
def test_no_reason_opens_the_door_for_a_safety_proof(result: Result, reason: str) -> None:
    shown = {"stops": Shown("stops", (result,) * 3)}
    verdict = may_leave_working(WHOLE, STOPS, shown, cosmetic={"stops": reason})
    assert verdict.allowed == (result == "passed")
    assert verdict.overridden == ()


def test_a_written_reason_passes_over_what_is_not_safety_and_is_named() -> None:
    proofs = {"hot": _proof("hot", False)}
    assert not may_leave_working(WHOLE, proofs, {}).allowed
    assert not may_leave_working(WHOLE, proofs, {}, cosmetic={"hot": "  "}).allowed
    verdict = may_leave_working(WHOLE, proofs, {}, ["gap"], {"hot": "cold day", "gap": "not held"})
    assert (verdict.allowed, verdict.overridden) == (True, ("gap", "hot"))


def test_nothing_of_ours_and_nothing_it_must_not_run_without_leaves_on_a_reason() -> None:
    reasons = dict.fromkeys(ITEMS, "the owner wants it so")
    allowed = {
        i: may_leave_working(WHOLE.moved(i, "on" if e.added else "off"), {}, {}, cosmetic=reasons).allowed
        for i, e in ITEMS.items()
    }
    assert allowed == {"hose": False, "cap": True, "screen": False, "strap": False}


def test_no_shipped_part_that_running_needs_is_passed_over(book: Book) -> None:
    for machine in book.machines:
        items = for_class(book, machine).access
        for item, entry in items.items():
            if entry.added or NEVER_RUN_WITHOUT & frozenset(entry.tokens):
                state = at_rest(items).moved(item, "on" if entry.added else "off")
                assert not may_leave_working(state, {}, {}, cosmetic={item: "because"}).allowed, (machine, item)


def test_the_door_back_unmended_says_how_it_leaves() -> None:
    state = WHOLE.with_moves([("hose", "off"), ("strap", "on")])
    assert may_return(state) == ("hose: still off", "strap: still on the machine")
    assert may_return(WHOLE) == ()
