"""One step over several machines."""

from __future__ import annotations

from itertools import pairwise

import pytest

from firstpull.base.errors import ManyErrors
from firstpull.bench.find import undo
from firstpull.bench.rounds import do_round, offered_rounds, plan
from firstpull.bench.shop import Shop
from firstpull.handbook.select import for_class
from tests.bench.coil_job import how, taken_in


def soaking(shop: Shop) -> str:
    """A repair of the handbook that leaves the hands free for a while."""
    book = shop.room.book
    return max((r for r in book.repairs.values() if not r.only), key=lambda r: (r.waiting, r.id)).id


def rack(shop: Shop, machines: int) -> list[str]:
    return [taken_in(shop) for _ in range(machines)]


def advised(shop: Shop, job: str, kind: str, name: str) -> None:
    shop.do(job, "advised", {"next": {"kind": kind, "id": name}}, **how(shop, job, by="firstpull"))


def test_a_round_of_soaking_saves_time_and_never_double_books_the_hands(shop: Shop) -> None:
    jobs = rack(shop, 3)
    name = soaking(shop)
    found = plan(shop, jobs, "repair", name)
    assert found.saved > 0
    slots = sorted(found.slots, key=lambda s: s.start)
    assert all(a.end <= b.start + 1e-9 for a, b in pairwise(slots))
    assert {s.job for s in slots} == set(jobs)


def test_the_same_step_next_on_several_machines_is_offered_and_on_one_is_not(shop: Shop) -> None:
    jobs = rack(shop, 3)
    name = soaking(shop)
    advised(shop, jobs[0], "repair", name)
    assert offered_rounds(shop) == ()
    advised(shop, jobs[2], "repair", name)
    (one,) = offered_rounds(shop)
    assert one.id == name
    assert set(one.jobs) == {jobs[0], jobs[2]}


def test_a_step_without_waiting_is_no_round(shop: Shop) -> None:
    for job in rack(shop, 2):
        advised(shop, job, "repair", "renew-plug")
    assert offered_rounds(shop) == ()


def test_a_round_is_one_act_and_is_taken_back_together_or_apart(shop: Shop) -> None:
    jobs = rack(shop, 3)
    seen = {job: shop.record(job).last_seq for job in jobs}
    done = do_round(shop, seen, {"repair": "renew-plug"}, act_id="round", by="Wren")
    assert {e.job for e in done.stored} == set(jobs)
    assert all(len(shop.record(job).repairs) == 1 for job in jobs)
    again = do_round(shop, seen, {"repair": "renew-plug"}, act_id="round", by="Wren")
    assert len(again.stored) == 3
    assert all(len(shop.record(job).repairs) == 1 for job in jobs)
    undo(shop, jobs[0], "round", **how(shop, jobs[0]))
    assert shop.record(jobs[0]).repairs == ()
    assert len(shop.record(jobs[1]).repairs) == 1


def test_one_machine_that_cannot_take_the_step_keeps_it_from_all(shop: Shop) -> None:
    jobs = [taken_in(shop), taken_in(shop, machine="string-trimmer")]
    seen = {job: shop.record(job).last_seq for job in jobs}
    trimmer = for_class(shop.room.book, "string-trimmer").repairs
    name = next(r for r in for_class(shop.room.book, "walk-mower-ohv").repairs if r not in trimmer)
    with pytest.raises(ManyErrors):
        do_round(shop, seen, {"repair": name}, act_id="round", by="Wren")
    assert all(shop.record(job).repairs == () for job in jobs)
    with pytest.raises(ManyErrors):
        plan(shop, jobs, "repair", name)


def test_a_round_waits_when_somebody_else_changed_one_of_the_machines(shop: Shop) -> None:
    jobs = rack(shop, 2)
    seen = {job: shop.record(job).last_seq for job in jobs}
    shop.do(jobs[1], "access", {"item": "plug", "state": "off"}, **how(shop, jobs[1], by="Ines"))
    done = do_round(shop, seen, {"repair": "renew-plug"}, act_id="round", by="Wren")
    assert done.waits
    assert all(shop.record(job).repairs == () for job in jobs)


def test_a_round_of_no_machine_is_refused(shop: Shop) -> None:
    with pytest.raises(ManyErrors):
        plan(shop, [], "repair", "renew-plug")
    with pytest.raises(ManyErrors):
        do_round(shop, {}, {"repair": "renew-plug"}, act_id="round", by="Wren")
