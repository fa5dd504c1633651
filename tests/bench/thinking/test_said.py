"""Without workers everything is reckoned where it is asked, once for each state of a job."""

from __future__ import annotations

from firstpull.bench.find import enter, session_of
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.said import probabilities, said_of, seen, suspected
from firstpull.bench.thinking.short import said_in_short


def test_without_workers_the_answer_is_settled_at_once_and_kept_for_the_rack(shop: Shop, job: str) -> None:
    record = shop.record(job)
    now = seen(shop, record, session_of(shop, record))
    assert (now.counts_all, now.settled, now.thinking) == (True, True, False)
    short = said_in_short(shop, record)
    assert short is not None
    assert now.answer is not None
    assert short.name == now.answer["next"]["name"]


def test_the_same_state_is_reckoned_once(shop: Shop, job: str) -> None:
    record = shop.record(job)
    first = said_of(shop, record, session_of(shop, record))
    assert said_of(shop, record, session_of(shop, record)) is first
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="b", based_on=2, by="Wren")
    later = shop.record(job)
    assert said_of(shop, later, session_of(shop, later)) is not first


def test_odds_of_faults_and_repairs_are_those_of_the_belief(shop: Shop, job: str) -> None:
    record = shop.record(job)
    session = session_of(shop, record)
    odds = probabilities(shop, record, session)
    assert odds["cause"] == session.belief().cause_probability
    assert odds["repair"] == session.belief().repair_probability
    assert suspected(shop, record, session)[0][1] == session.belief().suspects[0][1]
