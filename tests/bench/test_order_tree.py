"""What takes long about the chart: with workers it is theirs, and nobody waits for it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import replace

import pytest

from firstpull.base.errors import FirstpullError, RefusedError
from firstpull.bench.answer import answer
from firstpull.bench.case import read_step
from firstpull.bench.find import session_of
from firstpull.bench.order_tree import OrderTree, order_tree, tree_of
from firstpull.bench.paperwork.charting import chart
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.reasoning.adviser import Considered
from firstpull.reasoning.laying import lay_out
from firstpull.workshop.fold import JobRecord
from tests.bench.coil_job import put, taken_in

PATIENCE = 120.0


@pytest.fixture
def with_workers(shop: Shop) -> Iterator[Shop]:
    """The workshop with one worker."""
    shop.pool = pool = Pool(shop.room.book, size=1)
    pool.start()
    yield shop
    pool.close()


def waited_for(shop: Shop, record: JobRecord, session: Session) -> OrderTree:
    """The tree, once the workers have made it."""
    ends = time.monotonic() + PATIENCE
    while (made := tree_of(shop, record, session)) is None:
        assert time.monotonic() < ends
        time.sleep(0.05)
    return made


def test_the_tree_of_the_workers_is_the_one_made_here_and_its_chart_is_refused_until_it_is_there(
    with_workers: Shop,
) -> None:
    shop = with_workers
    job = taken_in(shop)
    record = shop.record(job)
    session = session_of(shop, record)
    began = time.monotonic()
    assert tree_of(shop, record, session) is None
    with pytest.raises(RefusedError, match="worked out"):
        chart(job_file(shop, job))
    assert time.monotonic() - began < 2
    made = waited_for(shop, record, session)
    assert made == order_tree(session)
    assert chart(job_file(shop, job)).root == made.root


def test_the_tree_begins_with_the_step_advised_also_when_something_could_not_be_done(shop: Shop) -> None:
    session = session_of(shop, shop.record(taken_in(shop)))
    seen = []
    for _ in range(4):
        said = answer(session)["next"]
        root = order_tree(session).root
        assert root.title == said["name"] or f"Only after: {said['name']}" in (root.note or "")
        seen.append(said["id"])
        session.take(read_step({"check": said["id"], "reading": "not-done"}, shop.room.book))
    assert len(set(seen)) == len(seen)


def test_the_tree_begins_with_a_proof_that_tells_little_or_was_read_before(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = session_of(shop, shop.record(taken_in(shop)))
    session.take(read_step({"check": "fuel-smell", "reading": "fresh"}, shop.room.book))
    advice = session.advice()
    laid = lay_out(session.belief(), session.state, session.possible)
    again = next(t for t in (*laid.checks, *laid.more) if t.option.id == "fuel-smell")
    seldom = next(t for t in reversed(laid.more) if t.lead is None)
    for telling in (again, seldom):
        option = telling.option
        first = Considered("check", option.id, 0.0, option, words=telling.words, table=telling.table,
                           place=telling.place)
        monkeypatch.setattr(session, "advice", lambda first=first: replace(advice, steps=(first, *advice.steps)))
        assert order_tree(session).root.title == session.book.checks[option.id].name


def test_a_job_that_cannot_be_reckoned_is_told_and_not_waited_for(with_workers: Shop) -> None:
    shop = with_workers
    record = shop.record(taken_in(shop, machine=""))
    other = shop.record(taken_in(shop))
    with pytest.raises(FirstpullError, match="could not be worked out"):
        waited_for(shop, record, session_of(shop, other))


def test_an_act_asks_for_another_tree(with_workers: Shop) -> None:
    shop = with_workers
    job = taken_in(shop)
    before = shop.record(job)
    assert tree_of(shop, before, session_of(shop, before)) is None
    put(shop, job, {"access": "stop-lead", "state": "off"})
    record = shop.record(job)
    session = session_of(shop, record)
    assert waited_for(shop, record, session) == order_tree(session)
