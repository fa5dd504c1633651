"""Real workers in real processes: in order, overtaken, killed, and never the loss of an act."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import replace

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.answer import answer
from firstpull.bench.find import enter, session_of
from firstpull.bench.reckoner import Known
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip
from firstpull.bench.thinking.pool import Pool

PATIENCE = 120.0


def until(true: Callable[[], bool]) -> None:
    """Wait until something is so."""
    ends = time.monotonic() + PATIENCE
    while not true():
        assert time.monotonic() < ends
        time.sleep(0.005)


def ask(pool: Pool, shop: Shop, job: str) -> str:
    """Want a job as it is recorded now; returns which state that is."""
    record = shop.record(job)
    pool.want(shop.mark(record), record, shop.prices())
    return shop.mark(record)


def test_a_first_answer_comes_and_then_the_settled_one_which_is_what_one_process_would_say(
    running: Pool, shop: Shop, job: str
) -> None:
    heard: list[bool] = []
    running.told = lambda name, known: heard.append(known.settled)
    record = replace(shop.record(job), job="in-order")
    running.want("m", record, shop.prices())
    known = running.wait_settled("in-order", "m", PATIENCE)
    assert known is not None
    until(lambda: heard == [False, True])
    here = answer(session_of(shop, shop.record(job)))
    assert known.answer["fault_probability"] == pytest.approx(here["fault_probability"], abs=1e-9)
    assert known.answer["next"]["id"] == here["next"]["id"]


def test_what_is_known_is_not_reckoned_again(running: Pool, shop: Shop, job: str) -> None:
    record = replace(shop.record(job), job="once")
    running.want("m", record, shop.prices())
    assert running.wait_settled("once", "m", PATIENCE) is not None
    running.told = lambda name, known: pytest.fail("reckoned again")
    running.want("m", record, shop.prices())
    assert "once" not in running._queue.wants


def test_a_newer_act_overtakes_and_only_the_newest_is_told_as_settled(running: Pool, shop: Shop, job: str) -> None:
    heard: list[Known] = []
    running.told = lambda name, known: heard.append(known)
    marks = [ask(running, shop, job)]
    for number, state in enumerate(("off", "on", "off")):
        step = {"access": "stop-lead", "state": state}
        enter(shop, job, step, act_id=f"m{number}", based_on=shop.record(job).last_seq, by="Wren")
        marks.append(ask(running, shop, job))
    assert running.wait_settled(job, marks[-1], PATIENCE) is not None
    until(lambda: any(k.settled for k in heard))
    last = running.known(job)
    assert last is not None
    assert last.mark == marks[-1]
    assert [k.mark for k in heard if k.settled][-1] == marks[-1]


def test_a_worker_that_is_killed_is_started_again_and_the_answer_comes(running: Pool, shop: Shop, job: str) -> None:
    until(lambda: len(running.processes()) == 2)
    before = running.restarts
    record = replace(shop.record(job), job="killed")
    running.want("m", record, shop.prices())
    until(lambda: running._queue.wants["killed"].taken or "killed" in running._known)
    for process in running.processes():
        os.kill(process, signal.SIGKILL)
    known = running.wait_settled("killed", "m", PATIENCE)
    assert known is not None
    assert running.restarts > before
    assert known.restarted
    assert running.restarted("killed", "m")


def test_a_job_that_cannot_be_reckoned_is_given_up_and_the_next_is_not(running: Pool, shop: Shop, job: str) -> None:
    record = shop.record(job)
    running.want("odd", replace(record, job="odd", machine_class="steam-mower"), shop.prices())
    until(lambda: bool(running.trouble("odd", "odd")))
    assert "steam-mower" in running.trouble("odd", "odd")
    assert running.wait_settled("odd", "odd", 0.1) is None
    running.want("m", replace(record, job="next"), shop.prices())
    assert running.wait_settled("next", "m", PATIENCE) is not None


def test_a_page_gets_the_one_thing_it_asked_for(running: Pool, shop: Shop, job: str) -> None:
    record = shop.record(job)
    made = running.call("strip", shop.mark(record), record, shop.prices(), "coil-gap", [], seconds=PATIENCE)
    assert isinstance(made, Strip)


def test_a_thing_that_cannot_be_done_is_refused_with_its_reason(running: Pool, shop: Shop, job: str) -> None:
    odd = replace(shop.record(job), job="odd-strip", machine_class="steam-mower")
    with pytest.raises(FirstpullError, match="steam-mower"):
        running.call("strip", "m", odd, shop.prices(), "coil-gap", [], seconds=PATIENCE)


def test_whoever_listens_hears_of_the_first_answer(running: Pool, shop: Shop, job: str) -> None:
    came = threading.Event()
    running.listen("listened", came.set)
    running.want("m", replace(shop.record(job), job="listened"), shop.prices())
    assert came.wait(PATIENCE)
    running.unlisten("listened", came.set)
    assert "listened" not in running._listeners


def test_a_pool_that_closes_leaves_no_process_behind(shop: Shop, job: str) -> None:
    pool = Pool(shop.room.book, size=1)
    pool.start()
    ask(pool, shop, job)
    until(lambda: bool(pool.processes()))
    (process,) = pool.processes()
    pool.close()
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)
