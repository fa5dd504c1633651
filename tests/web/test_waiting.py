"""In a school: a learner asks, an instructor's tap lets it go, and what was done before is true all the same."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.schooling import asked_on, keep_school
from firstpull.bench.shop import Shop
from firstpull.web.roles import Role
from tests.web.lan import Network


@pytest.fixture
def plain(shop: Shop) -> str:
    """A job whose kind of machine nobody said yet, so that nothing is reckoned."""
    keep_school(shop, True, ["spark", "fuel"])
    return take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in-1", by="Wren")


def read(client: TestClient, job: str, act: str, check: str = "spark-at-tester") -> int:
    said = {"act": act, "based_on": "9", "check": check, "reading": "dark"}
    return int(client.post(f"/job/{job}/step", data=said).status_code)


def hazard_of(shop: Shop, check: str) -> str:
    return str(shop.room.book.checks[check].hazard)


def test_a_learner_waits_and_an_instructors_tap_lets_it_go_once(shop: Shop, plain: str) -> None:
    assert hazard_of(shop, "spark-at-tester") in ("spark", "turns")
    keep_school(shop, True, [hazard_of(shop, "spark-at-tester")])
    net = Network(shop)
    learner, instructor = net.device(Role.LEARNER), net.device(Role.INSTRUCTOR)
    assert read(learner, plain, "a1") == 403
    assert shop.record(plain).readings == ()
    wish = {"act": "w1", "wanted": "spark-at-tester"}
    assert learner.post(f"/job/{plain}/ask", data=wish).status_code == 303
    (asked,) = asked_on(shop, shop.record(plain))
    assert asked.by == "a learner phone, learner"
    assert "Let it go" in instructor.get("/asked").text
    assert "Let it go" not in learner.get("/asked").text
    assert learner.post(f"/job/{plain}/free", data={"act": "f0", "asked": "w1", "said": "yes"}).status_code == 403
    assert read(learner, plain, "a2") == 403
    assert instructor.post(f"/job/{plain}/free", data={"act": "f1", "asked": "w1", "said": "yes"}).status_code == 303
    assert read(learner, plain, "a3") == 303
    assert read(learner, plain, "a4") == 403
    record = shop.record(plain)
    assert [e.by for e in record.readings] == ["a learner phone, learner"]
    assert [e.by for e in record.approvals] == ["a instructor phone, instructor"]
    assert asked_on(shop, record) == ()


def test_an_instructors_no_lets_nothing_go(shop: Shop, plain: str) -> None:
    keep_school(shop, True, [hazard_of(shop, "spark-at-tester")])
    net = Network(shop)
    learner = net.device(Role.LEARNER)
    learner.post(f"/job/{plain}/ask", data={"act": "w1", "wanted": "spark-at-tester"})
    net.device(Role.INSTRUCTOR).post(f"/job/{plain}/free", data={"act": "f1", "asked": "w1", "said": "no"})
    assert read(learner, plain, "a1") == 403


def test_what_a_learner_did_before_is_written_down_as_a_note(shop: Shop, plain: str) -> None:
    keep_school(shop, True, [hazard_of(shop, "spark-at-tester")])
    learner = Network(shop).device(Role.LEARNER)
    assert read(learner, plain, "a1") == 403
    assert read(learner, plain, "a1") == 403
    assert [e.body["text"] for e in shop.record(plain).notes] == [
        "Before an instructor let it go, not counted: check spark-at-tester, reading dark"
    ]


def test_a_hazard_behind_another_word_waits_too(shop: Shop, plain: str) -> None:
    book = shop.room.book
    harmless = next(c.id for c in book.checks.values() if c.hazard == "none")
    repair = next(r.id for r in book.repairs.values() if r.hazard == "fuel")
    learner = Network(shop).device(Role.LEARNER)
    said = {"act": "a1", "based_on": "9", "check": harmless, "reading": "not-done", "repair": repair}
    assert learner.post(f"/job/{plain}/step", data=said).status_code == 403
    step = {"repair": repair}
    answer = learner.post(f"/api/jobs/{plain}/steps", params={"act_id": "a2"}, json=step)
    assert answer.status_code == 403
    assert "petrol waits for an instructor" in answer.json()["error"]["what"]
    assert shop.record(plain).repairs == ()


def test_others_and_a_workshop_that_is_no_school_wait_for_nobody(shop: Shop, plain: str) -> None:
    net = Network(shop)
    keep_school(shop, True, [hazard_of(shop, "spark-at-tester")])
    assert read(net.device(Role.BENCH), plain, "b1") == 303
    keep_school(shop, False, [])
    assert read(net.device(Role.LEARNER), plain, "b2") == 303


def test_school_roles_are_given_in_a_school_only(shop: Shop, plain: str) -> None:
    net = Network(shop)
    assert net.bench().post("/devices/code", data={"role": "learner"}).status_code == 303
    keep_school(shop, False, [])
    assert net.bench().post("/devices/code", data={"role": "learner"}).status_code == 422


def test_the_settings_say_what_waits(shop: Shop, plain: str) -> None:
    bench = Network(shop).bench()
    said = {"part": "school", "school": "1", "waits": ["mains", "blade"]}
    assert bench.post("/settings", data=said).status_code == 303
    text = bench.get("/settings").text
    assert 'name="waits" value="mains" checked' in text
    assert 'name="waits" value="fuel">' in text
    assert bench.post("/settings", data={**said, "waits": ["moonlight"]}).status_code == 422
    assert Network(shop).device(Role.INSTRUCTOR).post("/settings", data=said).status_code == 403


def test_mixed_steps_need_every_right_they_use(shop: Shop, plain: str) -> None:
    counter = Network(shop).device(Role.COUNTER)
    told = next(iter(shop.room.book.told))
    assert counter.post(f"/job/{plain}/step", data={"act": "t1", "told": told}).status_code == 303
    mixed = {"act": "t2", "told": told, "check": "spark-at-tester", "reading": "dark"}
    assert counter.post(f"/job/{plain}/step", data=mixed).status_code == 403
    assert counter.post(f"/job/{plain}/step", data={"act": "t3", "move": "stop-lead=off"}).status_code == 403
    assert shop.record(plain).readings == ()
