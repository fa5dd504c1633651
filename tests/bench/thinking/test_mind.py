"""What one worker does with one thing it was asked."""

from __future__ import annotations

import gc
from dataclasses import replace
from functools import partial
from itertools import chain, repeat
from weakref import ref

import pytest

from firstpull.bench.find import enter, session_of
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.strips import strip
from firstpull.bench.thinking.asked import Asked
from firstpull.bench.thinking.mind import MOST_BELIEVED, Mind
from firstpull.bench.worldroom import WorldRoom


@pytest.fixture
def mind(shop: Shop) -> Mind:
    """A mind with the populations of the whole test run."""
    return Mind(shop.room)


def asked(shop: Shop, job: str, what: str = "first", *rest: object) -> Asked:
    """A question about a job as it is recorded now."""
    record = shop.record(job)
    return Asked(1, what, shop.mark(record), record, shop.prices(), rest)  # type: ignore[arg-type]  # one of its words


def test_the_quick_answer_and_the_settled_one_name_a_step_and_count_the_same_acts(
    shop: Shop, mind: Mind, job: str
) -> None:
    first = mind.reckon(asked(shop, job), lambda: False)
    settled = mind.reckon(asked(shop, job, "settled"), lambda: False)
    assert first.value["next"]["id"]
    assert settled.value["next"]["id"]
    assert first.value["stamp"] == settled.value["stamp"]


def test_what_was_overtaken_is_given_up_half_way(shop: Shop, mind: Mind, job: str) -> None:
    found = mind.reckon(asked(shop, job, "settled"), lambda: True)
    assert (found.stopped, found.value) == (True, None)


def test_leaving_off_between_any_two_pieces_of_work_changes_no_figure(shop: Shop, mind: Mind, job: str) -> None:
    whole = Mind(shop.room).reckon(asked(shop, job, "settled"), lambda: False).value
    pieces = 0
    while True:
        answers = chain(repeat(False, pieces), [True], repeat(False))
        found = mind.reckon(asked(shop, job, "settled"), partial(next, answers))
        if not found.stopped:
            break
        pieces += 1
        for _, session in mind._sessions.values():
            session.forget_belief()
    assert pieces >= 3
    assert found.value == whole


def test_a_later_state_of_a_job_takes_up_what_was_weighed_before(shop: Shop, mind: Mind, job: str) -> None:
    mind.reckon(asked(shop, job), lambda: False)
    (before,) = mind._sessions.values()
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="b", based_on=2, by="Wren")
    mind.reckon(asked(shop, job), lambda: False)
    (after,) = mind._sessions.values()
    assert after[1] is not before[1]
    assert after[1].scales is before[1].scales


def test_what_was_weighed_before_changes_no_figure(shop: Shop, mind: Mind, job: str) -> None:
    mind.reckon(asked(shop, job, "settled"), lambda: False)
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="b", based_on=2, by="Wren")
    warm = mind.reckon(asked(shop, job, "settled"), lambda: False).value
    cold = Mind(shop.room).reckon(asked(shop, job, "settled"), lambda: False).value
    assert warm["fault_probability"] == pytest.approx(cold["fault_probability"], abs=1e-9)
    assert warm["next"] == cold["next"]


def test_a_strip_made_by_a_worker_is_the_strip(shop: Shop, mind: Mind, job: str) -> None:
    made = mind.reckon(asked(shop, job, "strip", "coil-gap", []), lambda: False).value
    assert made == strip(session_of(shop, shop.record(job)), "coil-gap", [])


def test_a_class_that_is_not_in_the_handbook_is_told_and_harms_nothing(shop: Shop, mind: Mind, job: str) -> None:
    odd = asked(shop, job)
    wrong = replace(odd, record=replace(odd.record, machine_class="steam-mower"), mark="other")
    assert "steam-mower" in mind.reckon(wrong, lambda: False).failed
    assert not mind.reckon(odd, lambda: False).failed


def test_a_mind_that_grew_too_large_keeps_what_was_used_last_and_says_the_same(shop: Shop, job: str) -> None:
    mind = Mind(WorldRoom(shop.room.book), most_bytes=1)
    said = mind.reckon(asked(shop, job), lambda: False).value
    record = shop.record(job)
    mind.reckon(Asked(2, "first", "x", replace(record, job="other", machine_class="tiller"), shop.prices()),
                lambda: False)
    mind.make_room()
    assert list(mind._sessions) == ["other"]
    assert [key[0] for key in mind.room._kept] == ["tiller"]
    again = mind.reckon(asked(shop, job), lambda: False).value
    assert again["next"] == said["next"]
    assert again["fault_probability"] == pytest.approx(said["fault_probability"], abs=1e-9)


def test_machines_that_few_jobs_ask_for_go_first_and_jobs_stay_warm(
    shop: Shop, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    mind = Mind(WorldRoom(shop.room.book), most_bytes=100)
    mind.reckon(asked(shop, job), lambda: False)
    record = shop.record(job)
    mind.reckon(Asked(2, "first", "x", replace(record, job="other"), shop.prices()), lambda: False)
    (worlds,) = mind.room._kept.values()
    before, sizes = worlds.size, iter([101, 99])
    monkeypatch.setattr("firstpull.bench.thinking.mind.resident_bytes", lambda: next(sizes))
    mind.make_room()
    assert 0 < worlds.size < before
    assert list(mind._sessions) == [job, "other"]


def test_beliefs_stay_only_with_the_jobs_reckoned_last(shop: Shop, mind: Mind, job: str) -> None:
    record, prices = shop.record(job), shop.prices()
    for number in range(MOST_BELIEVED + 1):
        mind.reckon(Asked(number, "first", "x", replace(record, job=f"job {number}"), prices), lambda: False)
    assert [bool(session._belief) for _, session in mind._sessions.values()] == [False, *[True] * MOST_BELIEVED]


def test_only_so_many_jobs_stay_warm(shop: Shop, job: str) -> None:
    mind = Mind(shop.room, most=1)
    record = shop.record(job)
    mind.reckon(asked(shop, job), lambda: False)
    other = Asked(2, "first", "x", replace(record, job="other"), shop.prices())
    mind.reckon(other, lambda: False)
    assert list(mind._sessions) == ["other"]


def test_a_job_that_is_let_go_leaves_nothing_behind(shop: Shop, mind: Mind, job: str) -> None:
    mind.most = 1
    mind.reckon(asked(shop, job, "settled"), lambda: False)
    (_, session), = mind._sessions.values()
    scales = ref(session.scales)
    del session
    gc.collect()
    gc.disable()
    try:
        other = take_in(shop, Counter("Bram", "2", "runs rough", "60", "walk-mower-sv"), act_id="in-9", by="Wren")
        mind.reckon(asked(shop, other), lambda: False)
        assert scales() is None
    finally:
        gc.enable()
