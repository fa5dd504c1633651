"""Taking in: four musts, the customer's own words, and nothing kept when something is missing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstpull.base.errors import ManyErrors
from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, name_kind, take_in
from firstpull.bench.shop import Shop

SAID = Counter("Ada Fenwright", "0555 0101", "won't start, sat all winter with fuel in", "80,50", "walk-mower-ohv")


def test_what_was_said_becomes_ids_and_stays_in_the_customers_words(shop: Shop) -> None:
    record = shop.record(take_in(shop, SAID, act_id="a", by="Wren"))
    assert record.complaint == ("will-not-start",)
    assert record.told == ("stored-with-fuel",)
    assert record.words == (SAID.complaint,)
    assert record.machine_class == "walk-mower-ohv"
    assert str(record.spending_limit.amount if record.spending_limit else "") == "80.50"


def test_words_nobody_knows_are_kept_all_the_same(shop: Shop) -> None:
    record = shop.record(take_in(shop, replace(SAID, complaint="it sings at night"), act_id="a", by="Wren"))
    assert record.complaint == ()
    assert record.words == ("it sings at night",)


def test_all_that_is_missing_is_told_at_once_and_nothing_is_kept(shop: Shop) -> None:
    with pytest.raises(ManyErrors) as caught:
        take_in(shop, Counter(" ", "", "", "much", "walk-mower", ("in-the-rane",)), act_id="a", by="Wren")
    assert {e.where for e in caught.value.errors} == {"who", "number", "complaint", "limit", "machine", "told"}
    assert shop.store.jobs() == ()


@pytest.mark.parametrize("limit", ["", "-1", "1e9", "NaN", "Infinity", "80 crowns"])
def test_a_limit_that_is_no_sum_is_refused(shop: Shop, limit: str) -> None:
    with pytest.raises(ManyErrors):
        take_in(shop, replace(SAID, limit=limit), act_id="a", by="Wren")


def test_the_same_act_sent_twice_is_one_job_and_another_act_is_another(shop: Shop) -> None:
    first = take_in(shop, SAID, act_id="a", by="Wren")
    assert take_in(shop, SAID, act_id="a", by="Wren") == first
    assert take_in(shop, SAID, act_id="b", by="Wren") != first


def test_the_kind_of_machine_may_be_said_later_and_what_was_entered_before_then_counts(shop: Shop) -> None:
    job = take_in(shop, replace(SAID, machine="", complaint="won't start"), act_id="a", by="Wren")
    assert shop.record(job).machine_class == ""
    held = {"access": "control-held", "state": "on"}
    enter(shop, job, held, act_id="b", based_on=1, by="Wren")
    enter(shop, job, {"check": "spark-at-tester", "reading": "dark"}, act_id="c", based_on=2, by="Wren")
    before = shop.record(job)
    assert len(before.readings) == 1
    name_kind(shop, job, "walk-mower-ohv", act_id="d", based_on=3, by="Wren")
    record = shop.record(job)
    live = shop.live(record)
    assert live is not None
    assert [s.id for s in live.session.steps] == ["control-held", "spark-at-tester"]
    assert live.notices == ()
    assert (record.opened_at, record.stage) == (before.opened_at, before.stage)
    with pytest.raises(Exception, match="did you mean"):
        name_kind(shop, job, "walk-mower-ohw", act_id="e", based_on=4, by="Wren")
