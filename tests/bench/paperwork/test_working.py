"""The work sheet for pencil."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.find import what_next
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.working import check_of_key, key_of, work_sheet
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, put, taken_in


def test_the_advised_check_stands_first_with_all_its_outcomes(shop: Shop) -> None:
    job = taken_in(shop)
    advised = what_next(shop, job)["next"]
    assert advised["kind"] == "check"
    first = work_sheet(job_file(shop, job)).checks[0]
    check = shop.room.book.checks[advised["id"]]
    assert first.title == check.name
    assert first.outcomes == tuple(o.name for r in check.readings for o in r.outcomes)


def test_each_key_is_on_the_sheet_once_and_types_back_to_its_check(shop: Shop) -> None:
    job = taken_in(shop)
    checks = work_sheet(job_file(shop, job)).checks
    assert len({c.key for c in checks}) == len(checks) > 3
    for pencil in checks:
        found_id = check_of_key(shop, job, pencil.key.lower())
        assert shop.room.book.checks[found_id].name == pencil.title
        put(shop, job, {"check": found_id, "reading": "not-possible"})


@pytest.mark.parametrize("key", ["", "C0", "C99999", "K1", "C-1", "C1.5", "²"])
def test_a_key_that_is_on_no_sheet_is_refused(shop: Shop, key: str) -> None:
    with pytest.raises(InputError, match="key"):
        check_of_key(shop, taken_in(shop), key)


def test_a_check_that_this_class_does_not_have_is_no_key_of_its_sheet(shop: Shop) -> None:
    mower = taken_in(shop)
    other = next(c for c in shop.room.book.checks.values() if c.only.get("cycle") == ("two-stroke",))
    with pytest.raises(InputError):
        check_of_key(shop, mower, key_of(shop.room.book, other.id))


def test_an_engine_that_cannot_be_stopped_is_the_first_caution(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"access": "stop-lead", "state": "off"})
    assert "cannot be stopped" in work_sheet(job_file(shop, job)).cautions[0].say


def test_a_machine_of_unknown_kind_has_blank_lines_and_no_invented_checks(shop: Shop) -> None:
    sheet = work_sheet(job_file(shop, taken_in(shop, machine="")))
    assert sheet.checks == ()
    assert sheet.release == ()
    assert sheet.spare_lines > 4


def test_the_sheet_lists_what_must_be_shown_before_it_leaves(shop: Shop) -> None:
    listed = work_sheet(job_file(shop, found(shop))).release
    assert any(shop.room.book.releases["stops-from-its-control"].name in line for line in listed)
