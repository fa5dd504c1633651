"""The truth table of what may turn, spark and run, and what holds whatever is off or added."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine.vocabulary import TOKENS
from firstpull.handbook.book import Book
from firstpull.safety.interlocks import (
    FUEL_OPEN,
    NEVER_RUN_WITH,
    NEVER_RUN_WITHOUT,
    NEVER_SPIN_WITH,
    NEVER_SPIN_WITHOUT,
    Deed,
    cannot_fire,
    judge,
    must_rest,
    red,
    stop_is_lost,
)

MOWER: dict[str, float | str] = {"driven_load": "blade", "rope_in_cover": "yes"}
ROPE = Deed("spin", "rope", "turns")
SPARK = Deed("spin", "rope", "spark", sparks=True)
DRILL = Deed("spin", "drill", "turns")
RUN = Deed("run", "running", "running")
ANY = st.frozensets(st.sampled_from(sorted(TOKENS)), max_size=8)
DEEDS = st.sampled_from([ROPE, SPARK, DRILL, RUN, Deed("spin", "starter", "turns"), Deed(), Deed(hazard="blade")])


def tokens(words: str) -> frozenset[str]:
    found = frozenset(words.split())
    assert found <= set(TOKENS)
    return found


@pytest.mark.parametrize(
    "words",
    [
        "plug-lead tester-on-lead",  # the lead on an earthed stand-alone tester, the plug in
        "plug-lead tester-on-lead plug hole-covered",  # the plug out, the hole covered, no fuel open
        "plug hole-covered",
        "clip-switch",  # an earthing clip switch on the coil tab, tried
        "clip-switch fuel-hose",
        "plug-lead",  # the lead off and earthed, the plug in
    ],
)
def test_it_cannot_fire(words: str) -> None:
    assert cannot_fire(tokens(words))
    assert not red(tokens(words) | {"stop-lead"})
    assert judge(tokens(words) | {"stop-lead"}, ROPE, MOWER).allowed


@pytest.mark.parametrize(
    "words",
    [
        "",
        "in-line-tester",  # it fires through an in-line tester
        "plug-lead in-line-tester",  # the lead came off only to put that tester in between
        "plug-lead tester-on-lead in-line-tester",
        "fuel-tap",  # the bowl feeds it for minutes
        "fuel",
        "fuel-tap in-line-tester",
        "lent-coil lent-plug",
        "control-held",
        "plug",  # an open hole
        "plug hole-covered fuel-hose",
        "plug hole-covered bowl",
        "plug-lead tester-on-lead plug",
        "plug-lead plug carburettor",
    ],
)
def test_it_may_fire(words: str) -> None:
    assert not cannot_fire(tokens(words))
    assert red(tokens(words) | {"stop-lead"})
    verdict = judge(tokens(words) | {"stop-lead"}, ROPE, MOWER)
    assert not verdict.allowed
    assert verdict.clear_by


@pytest.mark.parametrize("lost", ["stop-lead", "jumper", "bridged-switch"])
def test_nothing_starts_without_a_stop_even_where_it_could_not_fire(lost: str) -> None:
    for words in ("", "clip-switch", "plug-lead tester-on-lead"):
        assert stop_is_lost(tokens(words) | {lost})
        assert not judge(tokens(words) | {lost}, RUN, MOWER).allowed


def test_the_stop_lead_off_alone_is_the_red_state_and_the_lead_on_a_tester_ends_it() -> None:
    assert red(tokens("stop-lead"))
    assert not red(tokens("stop-lead plug-lead tester-on-lead"))
    assert not red(tokens(""))


@pytest.mark.parametrize(
    ("words", "allowed"),
    [
        ("drill-on-nut shroud", False),
        ("drill-on-nut shroud plug plug-lead hole-covered", False),
        ("drill-on-nut shroud plug plug-lead hole-covered blade-clear", True),
        ("drill-on-nut shroud plug plug-lead hole-covered blade", True),
        ("drill-on-nut shroud plug-lead blade", False),
    ],
)
def test_the_drill_asks_for_plug_out_and_blade_clear_or_off(words: str, allowed: bool) -> None:
    assert judge(tokens(words), DRILL, MOWER).allowed == allowed


def test_a_machine_without_a_blade_needs_no_clear_path_for_the_drill() -> None:
    there = tokens("drill-on-nut shroud plug plug-lead hole-covered")
    assert judge(there, DRILL, {"driven_load": "pump"}).allowed


def test_oil_drained_forbids_any_start() -> None:
    for deed in (ROPE, DRILL, SPARK, RUN):
        assert not judge(tokens("oil plug plug-lead hole-covered blade-clear"), deed, MOWER).allowed


def test_no_spark_beside_an_open_hole_or_open_fuel() -> None:
    lit = tokens("plug plug-lead tester-on-lead")
    assert judge(lit, ROPE, MOWER).clear_by == ("hole-covered on",)
    assert judge(lit | {"hole-covered"}, ROPE, MOWER).allowed
    for fuel in sorted(FUEL_OPEN):
        assert not judge(lit | {"hole-covered", fuel}, ROPE, MOWER).allowed
        assert not judge(tokens("plug-lead tester-on-lead") | {fuel}, SPARK, MOWER).allowed
    assert judge(lit | {"clip-switch"}, ROPE, MOWER).allowed


def test_the_rope_is_gone_with_the_cover_that_holds_it() -> None:
    there = tokens("shroud plug-lead tester-on-lead")
    assert not judge(there, ROPE, MOWER).allowed
    assert judge(there, ROPE, {**MOWER, "rope_in_cover": "no"}).allowed


def test_hands_near_the_blade_ask_for_the_lead_or_plug_off() -> None:
    near = Deed(hazard="blade")
    assert not judge(frozenset(), near, MOWER).allowed
    assert not judge(tokens("plug-lead in-line-tester"), near, MOWER).allowed
    assert judge(tokens("plug-lead"), near, MOWER).allowed
    assert judge(tokens("plug"), near, MOWER).allowed


@given(ANY)
def test_a_red_machine_is_never_run_nor_spun(there: frozenset[str]) -> None:
    if red(there):
        assert not judge(there, RUN, MOWER).allowed
        assert not judge(there, ROPE, MOWER).allowed
        assert not judge(there, DRILL, MOWER).allowed


@given(ANY)
def test_whatever_is_off_without_which_it_must_not_run_keeps_it_from_running(there: frozenset[str]) -> None:
    allowed = judge(there, RUN, MOWER).allowed
    assert allowed == (not there & (NEVER_RUN_WITHOUT | NEVER_RUN_WITH))


@given(ANY)
def test_a_pull_that_could_start_it_keeps_to_the_rules_of_running(there: frozenset[str]) -> None:
    if judge(there, ROPE, MOWER).allowed and not cannot_fire(there) and "plug" not in there:
        assert judge(there, RUN, MOWER).allowed


@given(ANY, DEEDS)
def test_a_refusal_says_why_and_its_way_out_names_things_that_stand_wrong(there: frozenset[str], deed: Deed) -> None:
    verdict = judge(there, deed, MOWER)
    assert verdict.allowed == (not verdict.why)
    for way in verdict.clear_by:
        names = [w for w in way.replace(" and ", " ").split() if w in TOKENS]
        assert names
        if way.count(" ") == 1:
            name, position = way.split()
            assert (name in there) == ((position == "on") != TOKENS[name].added)


@given(ANY, DEEDS)
def test_doing_all_that_must_rest_never_takes_an_allowed_deed_away(there: frozenset[str], deed: Deed) -> None:
    rested = there - must_rest(deed)
    assert not rested & must_rest(deed)
    if deed.motion == "run":
        assert judge(rested, deed, MOWER).allowed


def test_every_word_of_the_rules_is_a_token_of_the_engine() -> None:
    words = FUEL_OPEN | NEVER_RUN_WITH | NEVER_RUN_WITHOUT | NEVER_SPIN_WITH | NEVER_SPIN_WITHOUT
    assert words <= set(TOKENS)
    assert {w for w in NEVER_RUN_WITHOUT | NEVER_SPIN_WITHOUT if TOKENS[w].added} == set()
    assert {w for w in NEVER_RUN_WITH | NEVER_SPIN_WITH if not TOKENS[w].added} == set()


def test_every_token_of_the_rules_can_be_moved_by_somebody(book: Book) -> None:
    moved = {t for item in book.access.values() for t in item.tokens}
    assert moved >= FUEL_OPEN | NEVER_RUN_WITH | NEVER_RUN_WITHOUT
