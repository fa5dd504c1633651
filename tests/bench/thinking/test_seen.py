"""What a page shows while nobody has answered yet, and that it asks for what is missing."""

from __future__ import annotations

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.find import note
from firstpull.bench.reckoner import Known
from firstpull.bench.shop import Shop
from firstpull.bench.thinking import seen as seen_module
from firstpull.bench.thinking.pool import Pool
from firstpull.bench.thinking.seen import GIVEN_UP, see, settled_answer


@pytest.fixture
def idle(shop: Shop) -> Pool:
    """A pool whose workers were never started: nothing is ever answered by itself."""
    shop.pool = Pool(shop.room.book)
    return shop.pool


def say(pool: Pool, job: str, mark: str, settled: bool) -> None:
    """An answer as a worker would bring it."""
    pool._known[job] = Known(mark, settled, {"next": {}}, False)


def test_a_job_that_nobody_reckoned_is_thought_about_from_the_first_look(idle: Pool, shop: Shop, job: str) -> None:
    now = see(idle, shop, shop.record(job))
    assert (now.answer, now.counts_all, now.settled, now.thinking) == (None, False, False, True)
    assert idle._queue.wants[job].mark == shop.mark(shop.record(job))


def test_an_act_is_wanted_as_soon_as_it_is_kept(idle: Pool, shop: Shop, job: str) -> None:
    shop.do(job, "access", {"item": "stop-lead", "state": "off"}, act_id="b", based_on=2, by="Wren")
    assert idle._queue.wants[job].mark == shop.mark(shop.record(job))


def test_an_older_answer_is_shown_as_one_that_does_not_count_the_last_act(idle: Pool, shop: Shop, job: str) -> None:
    say(idle, job, "before", settled=True)
    now = see(idle, shop, shop.record(job))
    assert now.answer is not None
    assert (now.counts_all, now.settled) == (False, False)


def test_news_is_another_word_at_every_stage(idle: Pool, shop: Shop, job: str) -> None:
    record = shop.record(job)
    words = [see(idle, shop, record).news]
    for settled in (False, True):
        say(idle, job, shop.mark(record), settled)
        words.append(see(idle, shop, record).news)
    assert len(set(words)) == 3
    assert not see(idle, shop, record).thinking


def test_a_note_changes_nothing_that_was_reckoned(idle: Pool, shop: Shop, job: str) -> None:
    say(idle, job, shop.mark(shop.record(job)), settled=True)
    note(shop, job, "rope is frayed", act_id="n", based_on=2, by="Wren")
    assert see(idle, shop, shop.record(job)).settled


def test_a_change_of_prices_makes_every_answer_an_old_one(idle: Pool, shop: Shop, job: str) -> None:
    say(idle, job, shop.mark(shop.record(job)), settled=True)
    shop.forget_live()
    assert not see(idle, shop, shop.record(job)).counts_all


def test_what_was_given_up_is_said_and_waited_for_no_longer(idle: Pool, shop: Shop, job: str) -> None:
    record = shop.record(job)
    idle._trouble[job] = (shop.mark(record), "broken")
    now = see(idle, shop, record)
    assert (now.words, now.thinking) == (GIVEN_UP, False)
    with pytest.raises(FirstpullError, match="broken"):
        settled_answer(idle, shop, record)


def test_a_price_is_not_said_on_an_answer_that_does_not_come(
    idle: Pool, shop: Shop, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(seen_module, "PATIENCE_SECONDS", 0.05)
    with pytest.raises(FirstpullError, match="not enough"):
        settled_answer(idle, shop, shop.record(job))


def test_a_job_that_has_gone_is_reckoned_only_when_somebody_opens_it(idle: Pool, shop: Shop, job: str) -> None:
    say(idle, job, shop.mark(shop.record(job)), settled=True)
    idle._queue.wants.clear()
    shop.do(job, "stage", {"stage": "disposed"}, act_id="g", based_on=2, by="Wren")
    assert shop.record(job).closed
    assert not idle._queue.wants
    idle._known.clear()
    assert see(idle, shop, shop.record(job)).thinking
    assert job in idle._queue.wants
