"""A page that waits for news holds no thread, and pages without any say that it is being reckoned."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from threading import Timer
from typing import Any

import pytest
from starlette.testclient import TestClient

from firstpull.base.errors import InputError
from firstpull.bench.answer import answer
from firstpull.bench.find import enter
from firstpull.bench.reckoner import Known
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.bench.thinking.seen import AGAIN, GIVEN_UP, see
from firstpull.web.news import newer


def told(news: Coroutine[Any, Any, bool]) -> bool:
    """What comes of waiting, on a thread of its own: a browser test may have left a loop running on this one."""
    with ThreadPoolExecutor(1) as apart:
        return apart.submit(asyncio.run, news).result()


@pytest.fixture
def idle(shop: Shop) -> Pool:
    """A pool whose workers were never started."""
    shop.pool = Pool(shop.room.book)
    return shop.pool


def test_where_nobody_reckons_the_page_is_new_at_once(shop: Shop, job: str) -> None:
    assert told(newer(shop, job, "x"))


def test_nothing_new_is_said_so_in_its_time(idle: Pool, shop: Shop, job: str) -> None:
    seen = see(idle, shop, shop.record(job)).news
    assert not told(newer(shop, job, seen, 0.05))
    assert idle._listeners == {}


def test_what_the_page_does_not_show_yet_is_news_at_once(idle: Pool, shop: Shop, job: str) -> None:
    assert told(newer(shop, job, "an older page", 30.0))


def test_an_answer_that_comes_wakes_whoever_waits(idle: Pool, shop: Shop, job: str) -> None:
    record = shop.record(job)
    seen = see(idle, shop, record).news

    def come() -> None:
        idle._known[job] = Known(shop.mark(record), False, {}, False)
        idle._call_listeners(job)

    Timer(0.2, come).start()
    began = time.monotonic()
    assert told(newer(shop, job, seen, 30.0))
    assert time.monotonic() - began < 15.0


def test_a_job_that_is_not_there_is_refused(idle: Pool, shop: Shop) -> None:
    with pytest.raises(InputError, match="no job"):
        told(newer(shop, "99", ""))


def test_the_page_comes_before_the_answer_and_says_what_was_kept(
    idle: Pool, client: TestClient, shop: Shop, job: str
) -> None:
    fields = {"act": "a", "based_on": "1", "check": "spark-at-tester", "reading": "dark"}
    assert client.post(f"/job/{job}/step", data=fields).status_code == 303
    text = client.get(f"/job/{job}").text
    assert "Reckoning the next step" in text
    assert "Kept on the bench: Spark at the tester dark" in text
    assert '<noscript><meta http-equiv="refresh"' in text
    assert f'href="/job/{job}/did"' in text
    assert len(shop.record(job).readings) == 1


def test_the_rack_and_the_shelves_wait_for_nobody(idle: Pool, client: TestClient, job: str) -> None:
    for page in ("/", f"/job/{job}/did", f"/job/{job}/check/coil-gap", f"/job/{job}/release"):
        assert client.get(page).status_code == 200, page


def test_an_answer_that_does_not_count_the_last_act_is_shown_as_one_of_before(
    idle: Pool, client: TestClient, shop: Shop, job: str
) -> None:
    shop.pool = None
    client.get(f"/job/{job}")
    before = shop.live(shop.record(job))
    assert before is not None
    said = answer(before.session)
    shop.pool = idle
    idle._known[job] = Known("before", True, said, False)
    text = client.get(f"/job/{job}").text
    assert f"Before that the next step was: {said['next']['name']}" in text
    assert "As it stood before your last act." in text
    assert 'name="reading"' not in text


def test_a_reckoning_that_was_started_again_says_so_until_the_next_act(
    idle: Pool, client: TestClient, shop: Shop, job: str
) -> None:
    live = shop.live(shop.record(job))
    assert live is not None
    idle._known[job] = Known(shop.mark(shop.record(job)), True, answer(live.session), False, restarted=True)
    assert AGAIN in client.get(f"/job/{job}").text
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="x", based_on=1, by="Wren")
    assert AGAIN not in client.get(f"/job/{job}").text


def test_what_cannot_be_reckoned_is_said_and_asks_for_no_patience(
    idle: Pool, client: TestClient, shop: Shop, job: str
) -> None:
    idle._trouble[job] = (shop.mark(shop.record(job)), "broken")
    text = client.get(f"/job/{job}").text
    assert GIVEN_UP in text
    assert "data-news" not in text
    assert "http-equiv" not in text
