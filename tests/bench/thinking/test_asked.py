"""What goes through the pipe comes out as it went in."""

from __future__ import annotations

import pickle

from firstpull.bench.shop import Shop
from firstpull.bench.thinking.asked import Answered, Asked


def test_a_job_as_recorded_comes_out_of_the_pipe_as_it_went_in(shop: Shop, job: str) -> None:
    asked = Asked(7, "first", "mark", shop.record(job), shop.prices())
    assert pickle.loads(pickle.dumps(asked)) == asked


def test_a_handbook_comes_out_of_the_pipe_as_it_went_in(shop: Shop) -> None:
    there = pickle.loads(pickle.dumps(shop.room.book))
    assert there.hash == shop.room.book.hash
    assert there.checks == shop.room.book.checks


def test_an_answer_that_was_given_up_says_so() -> None:
    assert pickle.loads(pickle.dumps(Answered(3, stopped=True))).stopped
