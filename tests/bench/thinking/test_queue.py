"""What is reckoned next: whoever waits for a first answer goes before whoever has one."""

from __future__ import annotations

from firstpull.bench.thinking.queue import ALONE, BACK, FRONT, Errand, Queue, Want
from firstpull.reasoning.prices import Prices
from firstpull.workshop.fold import JobRecord


def want(queue: Queue, job: str, order: int, *, eager: bool = True, first_there: bool = False) -> Want:
    """A want in the queue."""
    found = Want(f"m{order}", JobRecord(job), Prices(), order, eager, first_there)
    queue.wants[job] = found
    return found


def test_first_answers_come_in_the_order_of_the_acts() -> None:
    queue = Queue()
    late, early = want(queue, "1", 2), want(queue, "2", 1)
    assert [queue.pick(FRONT), queue.pick(FRONT), queue.pick(FRONT)] == [early, late, None]


def test_a_job_that_nobody_stands_at_waits_for_those_at_which_somebody_does() -> None:
    queue = Queue()
    ahead, asked = want(queue, "1", 1, eager=False), want(queue, "2", 2)
    assert [queue.pick(FRONT), queue.pick(FRONT)] == [asked, ahead]


def test_the_worker_in_front_settles_nothing() -> None:
    queue = Queue()
    settle = want(queue, "1", 1, first_there=True)
    assert queue.pick(FRONT) is None
    assert queue.pick(BACK) is settle


def test_the_worker_that_settles_helps_when_two_wait_for_a_first_answer() -> None:
    queue = Queue()
    want(queue, "1", 1, first_there=True)
    want(queue, "2", 2)
    last = want(queue, "3", 3)
    assert queue.pick(BACK) is last


def test_one_alone_gives_first_answers_before_errands_and_errands_before_settled_ones() -> None:
    queue = Queue()
    settle, first = want(queue, "1", 1, first_there=True), want(queue, "2", 2)
    errand = Errand("strip", "m", JobRecord("1"), Prices(), ())
    queue.errands.append(errand)
    assert [queue.pick(ALONE), queue.pick(ALONE), queue.pick(ALONE)] == [first, errand, settle]


def test_what_is_taken_is_not_given_twice() -> None:
    queue = Queue()
    want(queue, "1", 1)
    assert queue.pick(FRONT) is not None
    assert queue.pick(ALONE) is None


def test_two_first_answers_that_wait_press_whoever_settles() -> None:
    queue = Queue()
    want(queue, "1", 1, first_there=True)
    want(queue, "2", 2)
    want(queue, "3", 3, eager=False)
    assert not queue.pressed
    want(queue, "4", 4)
    assert queue.pressed
    queue.pick(FRONT)
    assert not queue.pressed
