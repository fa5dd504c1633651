"""The one door to the record: acts are kept once, live jobs are remembered, stale hands wait for a look."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.shop import MOST_LIVE, OWNED_KEY, PRICES_KEY, Shop


def test_a_job_that_is_not_there_is_refused(shop: Shop) -> None:
    with pytest.raises(InputError, match="no job '99'"):
        shop.record("99")


def test_an_act_sent_twice_is_kept_once(shop: Shop, mower_job: str) -> None:
    for _ in range(2):
        shop.do(mower_job, "note", {"text": "bits are in the bag"}, act_id="n", based_on=1, by="Wren")
    assert len(shop.record(mower_job).notes) == 1


def test_several_acts_are_kept_together_or_not_at_all(shop: Shop, mower_job: str) -> None:
    with pytest.raises(InputError):
        shop.do_all(mower_job, [("note", {"text": "a"}), ("access", {"item": "cover", "state": "away"})],
                    act_id="n", based_on=1, by="Wren")
    assert shop.record(mower_job).last_seq == 1


def test_an_access_move_on_a_stale_page_waits_for_a_look(shop: Shop, mower_job: str) -> None:
    shop.do(mower_job, "access", {"item": "cover", "state": "off"}, act_id="a", based_on=1, by="Wren")
    done = shop.do(mower_job, "access", {"item": "cover", "state": "on"}, act_id="b", based_on=1, by="Bram")
    assert done.waits
    assert done.stored == ()
    assert [e.act_id for e in done.changed] == ["a"]
    assert shop.record(mower_job).last_seq == 2


def test_a_live_job_is_remembered_until_something_is_added(shop: Shop, mower_job: str) -> None:
    one = shop.live(shop.record(mower_job))
    assert shop.live(shop.record(mower_job)) is one
    shop.do(mower_job, "access", {"item": "cover", "state": "off"}, act_id="a", based_on=1, by="Wren")
    two = shop.live(shop.record(mower_job))
    assert two is not one
    assert two is not None
    assert two.session.state.away == {"cover"}
    assert len(shop._live) <= MOST_LIVE


def test_the_shops_own_prices_and_instruments_count(shop: Shop) -> None:
    usual = shop.prices()
    shop.store.put_setting(PRICES_KEY, {"proof_price": 12, "colour": "red"})
    shop.store.put_setting(OWNED_KEY, ["eye", "feelers"])
    own = shop.prices()
    assert own.proof_price == 12.0 != usual.proof_price
    assert own.owned == frozenset({"eye", "feelers"})
