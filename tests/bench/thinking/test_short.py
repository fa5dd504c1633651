"""The word that the rack shows."""

from __future__ import annotations

from firstpull.bench.find import enter, note
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.short import SHORT_KEY, keep_short, last_short, said_in_short

ANSWER = {"next": {"name": "Spark at the tester", "minutes": 4.4}, "cost": {"minutes": {"expected": 31.6}}}


def test_a_word_is_kept_with_the_record_until_something_is_done(shop: Shop, job: str) -> None:
    keep_short(shop, job, shop.mark(shop.record(job)), ANSWER, True)
    short = said_in_short(shop, shop.record(job))
    assert short is not None
    assert (short.name, short.minutes, short.left, short.lights) == ("Spark at the tester", 4, 32, True)
    note(shop, job, "rope is frayed", act_id="n", based_on=2, by="Wren")
    assert said_in_short(shop, shop.record(job)) == short


def test_after_an_act_the_last_word_is_shown_as_an_old_one(shop: Shop, job: str) -> None:
    keep_short(shop, job, shop.mark(shop.record(job)), ANSWER, False)
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="b", based_on=2, by="Wren")
    record = shop.record(job)
    assert said_in_short(shop, record) is None
    old = last_short(shop, record)
    assert old is not None
    assert not old.counts_all
    assert old.at.startswith("2026-04-11T12:00")


def test_what_another_version_kept_is_no_word(shop: Shop, job: str) -> None:
    shop.store.put_setting(f"{SHORT_KEY}-{job}", {"seq": 2, "name": "x"})
    assert last_short(shop, shop.record(job)) is None
