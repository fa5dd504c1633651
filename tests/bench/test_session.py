"""One machine on the bench: facts are kept whatever they say, and a refused step leaves all as it was."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.case import read_step
from firstpull.bench.session import Session
from firstpull.handbook.book import Book
from firstpull.reasoning.acts import ComplaintAct, ReadingAct, RepairAct
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds


@pytest.fixture
def job(mower: Worlds) -> Session:
    """A mower that nobody has touched."""
    return Session(mower.book, Scales(mower))


def take(job: Session, *steps: dict[str, Any]) -> None:
    for step in steps:
        job.take(read_step(step, job.book.book))


def last(job: Session) -> ReadingAct:
    found = job.acts[-1]
    assert isinstance(found, ReadingAct)
    return found


HELD = {"access": "control-held", "state": "on"}
DARK = {"check": "spark-at-tester", "reading": "dark"}


def test_a_job_begins_with_its_own_parts_on_and_everything_we_add_off(job: Session) -> None:
    assert job.state.away == frozenset()


def test_a_reading_brings_the_machine_to_what_it_shows_must_have_been_so(job: Session) -> None:
    take(job, DARK)
    assert "tester-on-lead" in job.state.away
    assert "tester-on-lead" in job.state.implied
    assert job.questions == []


def test_a_reading_that_contradicts_the_recorded_access_is_kept_and_asked_about(job: Session) -> None:
    take(job, {"access": "cover", "state": "on"}, {"check": "coil-gap", "reading": "0.3 mm"})
    assert [a.check for a in job.acts if isinstance(a, ReadingAct)] == ["coil-gap"]
    (question,) = job.questions
    assert (question.item, question.recorded, question.implied, question.check) == ("cover", "on", "off", "coil-gap")


def test_a_reading_is_taken_in_the_arrangement_that_stood_then(job: Session) -> None:
    take(job, HELD, DARK)
    with_lead = last(job).arrangement
    take(job, {"access": "stop-lead", "state": "off"}, DARK | {"with": {"drive": "drill"}})
    assert "stop-lead" not in with_lead.off
    assert "stop-lead" in last(job).arrangement.off
    assert last(job).arrangement.drive == "drill"


def test_with_the_cover_off_the_rope_is_gone_and_the_drill_is_taken_for_granted(job: Session) -> None:
    take(job, HELD, {"access": "stop-lead", "state": "off"}, DARK)
    assert "cover" in job.state.away
    assert last(job).arrangement.drive == "drill"


def test_not_done_is_no_evidence_and_is_not_proposed_again(job: Session) -> None:
    take(job, {"check": "leak-down", "reading": "not-done"})
    assert not any(isinstance(a, ReadingAct) for a in job.acts)
    assert "leak-down" in job.masked
    assert job.state.away == frozenset()


def test_not_possible_is_evidence_and_may_be_tried_again(job: Session) -> None:
    take(job, {"check": "leak-down", "reading": "not-possible"})
    assert last(job).reads[0].word == "not-possible"
    assert job.masked == set()
    assert job.done == set()


@pytest.mark.parametrize(
    ("word", "holds"), [("still", True), ("now-and-then", True), ("gone", False), ("not-possible", None),
                        ("not-done", None)]
)
def test_a_complaint_is_a_check_of_its_own(job: Session, word: str, holds: bool | None) -> None:
    take(job, {"repair": "renew-plug"}, {"check": "will-not-start", "reading": word})
    tried = [a for a in job.acts if isinstance(a, ComplaintAct)]
    assert [a.holds for a in tried] == ([] if holds is None else [holds])


def test_trying_the_complaint_means_that_all_was_back_in_its_place(job: Session) -> None:
    take(job, {"access": "cover", "state": "off"}, {"check": "will-not-start", "reading": "still"})
    assert job.state.away == frozenset()


def test_what_the_owner_repaired_moves_nothing_on_the_bench(job: Session) -> None:
    take(job, {"repair": "renew-coil", "by": "owner"})
    assert job.state.away == frozenset()
    assert job.acts == [RepairAct("renew-coil", "owner")]
    assert job.last_repair is None


def test_after_a_repair_every_check_may_be_read_again(job: Session) -> None:
    take(job, HELD, DARK)
    assert job.done
    take(job, {"repair": "renew-coil"})
    assert job.done == set()


@pytest.mark.parametrize(
    "step",
    [{"check": "leak-down-two-stroke", "reading": "1 %"}, {"check": "coil-gap", "reading": "3 psi"},
     {"check": "coil-gap", "reading": "0.3 mm", "instrument": "crystal-ball"}, {"access": "decompression"},
     {"check": "will-not-start", "reading": "perhaps"}, {"check": "coil-gap", "reading": "0.3 mm", "spread": "3 psi"}],
)
def test_a_refused_step_leaves_all_as_it_was(job: Session, step: dict[str, Any]) -> None:
    take(job, HELD, DARK)
    before = (job.state, list(job.acts), list(job.steps), list(job.questions), set(job.done), set(job.masked))
    with pytest.raises(FirstpullError) as caught:
        take(job, step)
    assert (job.state, job.acts, job.steps, job.questions, job.done, job.masked) == before
    assert str(caught.value)


def test_a_copy_is_another_job(job: Session) -> None:
    take(job, HELD)
    twin = job.copy()
    take(twin, DARK, {"repair": "renew-plug"})
    assert len(job.acts) == 0
    assert job.state.away == frozenset({"control-held"})
    assert twin.last_repair == "renew-plug"


def test_every_word_of_every_check_can_be_taken_on_every_machine(book: Book, mower: Worlds) -> None:
    job = Session(mower.book, Scales(mower))
    for check in mower.book.checks.values():
        for reading in check.readings:
            for outcome in reading.outcomes:
                raw: Any = [outcome.id] if reading.several else outcome.id
                take(job, {"check": check.id, "reading": {reading.key: raw} if reading.key else raw})
    assert len(job.steps) > len(mower.book.checks)


def test_a_pull_that_could_have_started_it_shows_that_drill_and_tester_were_gone(job: Session) -> None:
    take(job, HELD, {"access": "stop-lead", "state": "off"}, DARK)
    assert {"drill-on-nut", "hole-covered", "tester-on-lead"} <= job.state.away
    take(job, {"access": "stop-lead", "state": "on"}, {"check": "start-cold", "reading": "starts"})
    assert not {"drill-on-nut", "hole-covered", "tester-on-lead", "plug", "cover"} & job.state.away
    assert job.questions == []


def test_a_pull_with_the_lead_on_the_tester_leaves_the_tester_where_it_is(job: Session) -> None:
    take(job, DARK, DARK | {"times": 2})
    assert "tester-on-lead" in job.state.away
