"""What was read, in sentences."""

from __future__ import annotations

from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.readings import readings, stood
from firstpull.bench.shop import Shop
from tests.bench.coil_job import FOUND, put, taken_in


def test_each_reading_says_how_the_machine_stood(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, *FOUND[:4])
    first, second = readings(job_file(shop, job))
    assert "dark" in first
    assert "control held" in first
    assert "stop lead off" not in first
    assert "stop lead off" in second


def test_a_reading_taken_several_times_says_so_and_a_withdrawn_one_is_gone(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"check": "engine-stops-on-release", "reading": "stops", "times": 3})
    (one,) = readings(job_file(shop, job))
    assert "(3 times)" in one
    last = shop.record(job).readings[-1].act_id
    shop.do(job, "withdrawn", {"acts": [last]}, act_id="undo", based_on=2, by="Wren")
    assert readings(job_file(shop, job)) == ()


def test_a_reading_without_an_arrangement_says_nothing_of_it(shop: Shop) -> None:
    job = taken_in(shop)
    shop.do(job, "reading", {"check": "long-gone-check", "reading": "odd"}, act_id="x", based_on=1, by="Wren")
    file = job_file(shop, job)
    assert readings(file) == ("long-gone-check: odd",)
    assert stood(file, file.record.readings[0]) == ""
