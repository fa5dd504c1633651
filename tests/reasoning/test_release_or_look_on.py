"""When the complaint is gone: the machine may go, or the odds still speak of a fault that sleeps."""

from __future__ import annotations

import pytest

from firstpull.bench.answer import WOULD_NOT_FAIL, kind_and_id, next_step
from firstpull.bench.case import Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.adviser import RELEASE, Advice, Considered
from firstpull.reasoning.explain import SOUND, why
from firstpull.reasoning.weigh import Scales


def job(room: WorldRoom, kind: str, complaint: str, *steps: Step) -> Session:
    worlds = room.worlds(kind, Conditions())
    session = Session(worlds.book, Scales(worlds))
    session.hear([complaint], [])
    for step in steps:
        session.take(step)
    return session


def ends(advice: Advice) -> list[str]:
    return [s.id for s in advice.steps if s.kind == "end"]


@pytest.fixture
def sleeping(room: WorldRoom) -> Session:
    """It died after some minutes at its owner's, and did not when it was tried."""
    gone = Step("check", "dies-after-minutes", reading="gone")
    return job(room, "generator-brush-60", "dies-after-minutes", gone)


def test_nobody_is_released_before_the_complaint_was_tried(room: WorldRoom) -> None:
    assert RELEASE not in ends(job(room, "walk-mower-ohv", "rope-broke", Step("repair", "renew-rope")).advice())


def test_a_mended_machine_goes_once_its_complaint_is_gone(room: WorldRoom) -> None:
    mended = job(room, "walk-mower-ohv", "rope-broke", Step("repair", "renew-rope"),
                 Step("check", "rope-broke", reading="gone"))
    advice = mended.advice()
    assert mended.belief().sound > SOUND
    assert advice.next.id == RELEASE
    assert kind_and_id(mended, mended.belief(), advice.next) == ("stop", RELEASE)
    assert "hand it over" in next_step(mended, mended.belief(), advice)["why"]


def test_a_complaint_that_did_not_show_is_looked_for_while_a_comeback_costs_more(sleeping: Session) -> None:
    advice = sleeping.advice()
    assert sleeping.belief().sound < SOUND
    assert advice.next.id != RELEASE
    release = next(s for s in advice.steps if s.id == RELEASE)
    assert release.cost > advice.next.cost
    assert "It did not show" in next_step(sleeping, sleeping.belief(), advice)["why"]


def test_where_no_look_is_left_it_is_said_that_it_would_not_fail(sleeping: Session) -> None:
    sleeping.masked.update(sleeping.book.checks)
    sleeping.masked.update(sleeping.book.repairs)
    advice, belief = sleeping.advice(), sleeping.belief()
    release = next(s for s in advice.steps if s.id == RELEASE)
    assert kind_and_id(sleeping, belief, release) == ("stop", WOULD_NOT_FAIL)
    assert {s.kind for s in advice.steps} <= {"proof", "end"}
    assert "keep the job open" in why(belief, advice, release)


def test_a_trial_that_is_proposed_again_is_the_complaint(sleeping: Session) -> None:
    trial = Considered("proof", "proof", 0.0)
    assert kind_and_id(sleeping, sleeping.belief(), trial) == ("check", "dies-after-minutes")


def test_a_repair_shuts_the_door_until_the_complaint_is_tried_again(sleeping: Session) -> None:
    sleeping.take(Step("repair", "renew-needle-and-seat"))
    assert RELEASE not in ends(sleeping.advice())


def test_a_sound_machine_is_not_tried_again_and_again(room: WorldRoom) -> None:
    """All else ruled out, the trial is the only other step, and it costs its minutes."""
    mended = job(room, "walk-mower-ohv", "rope-broke", Step("repair", "renew-rope"),
                 Step("check", "rope-broke", reading="gone"))
    mended.masked.update([*mended.book.checks, *mended.book.repairs])
    assert mended.advice().next.id == RELEASE
