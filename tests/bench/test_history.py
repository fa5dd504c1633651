"""The same machine next year, and the comeback."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.bench.history import comeback_of, earlier_jobs, known_machines, name_cause
from firstpull.bench.release import release_working, return_unmended
from firstpull.bench.shop import Shop
from tests.bench.coil_job import gone_home, how, mended, prove, taken_in

NEXT_YEAR = datetime(2027, 4, 2, 9, 0, tzinfo=UTC)


def test_the_same_machine_next_year_shows_what_was_done(shop: Shop) -> None:
    first = gone_home(shop)
    shop.clock = lambda: NEXT_YEAR
    second = taken_in(shop, number="05550101", complaint="kicks back")
    (past,) = earlier_jobs(shop, second)
    assert past.job == first
    assert past.repairs == ("Renew the coil",)
    assert past.values == ("air-gap 0.27 mm",)
    assert past.way == "working"
    assert past.days_ago == 356


def test_another_kind_of_machine_or_another_owner_is_another_history(shop: Shop) -> None:
    gone_home(shop)
    assert earlier_jobs(shop, taken_in(shop, machine="string-trimmer")) == ()
    assert earlier_jobs(shop, taken_in(shop, who="Bram Oakley", number="0555 0199")) == ()


def test_the_counter_finds_what_was_here_by_the_telephone_number(shop: Shop) -> None:
    first = gone_home(shop)
    assert [p.job for p in known_machines(shop, "0555 0101", "walk-mower-ohv")] == [first]
    assert known_machines(shop, "0555 0101", "snow-blower") == ()
    assert known_machines(shop, "") == ()


def test_a_forgotten_owner_leaves_no_history_by_name(shop: Shop) -> None:
    first = gone_home(shop)
    shop.store.erase_person(shop.record(first).person, by="Wren", at="2026-05-01T00:00:00Z")
    assert earlier_jobs(shop, taken_in(shop)) == ()


def test_a_comeback_opens_with_the_first_job_s_proofs(shop: Shop) -> None:
    first = gone_home(shop)
    back = comeback_of(shop, taken_in(shop, comeback_of=first))
    assert back is not None
    assert back.of.job == first
    assert {p.result for p in back.proofs} == {"passed"}
    assert len(back.proofs) >= 3
    assert back.not_tested == ()
    assert back.same_complaint
    assert back.first_look_free


def test_a_comeback_shows_what_was_never_tested(shop: Shop) -> None:
    first = mended(shop)
    return_unmended(shop, first, "Owner was in a hurry.", **how(shop, first))
    back = comeback_of(shop, taken_in(shop, comeback_of=first))
    assert back is not None
    assert set(back.not_tested) == {p.name for p in back.proofs}
    assert back.not_tested


def test_after_the_shop_s_period_the_look_is_not_free(shop: Shop) -> None:
    first = gone_home(shop)
    shop.clock = lambda: NEXT_YEAR
    back = comeback_of(shop, taken_in(shop, comeback_of=first))
    assert back is not None
    assert not back.inside_period
    assert not back.first_look_free


def test_a_job_that_is_no_comeback_opens_with_nothing(shop: Shop) -> None:
    assert comeback_of(shop, taken_in(shop)) is None
    assert comeback_of(shop, taken_in(shop, comeback_of="9999")) is None


def test_the_class_of_cause_is_kept_once_it_is_known(shop: Shop) -> None:
    first = mended(shop)
    prove(shop, first)
    release_working(shop, first, {}, **how(shop, first))
    second = taken_in(shop)
    done = name_cause(shop, second, first, "part-faulty", **how(shop, second))
    assert (done.record.comeback_of, done.record.cause_class) == (first, "part-faulty")
    for of, cause in ((second, "part-faulty"), (first, "gremlins"), ("9999", "owner")):
        with pytest.raises(FirstpullError):
            name_cause(shop, second, of, cause, **how(shop, second))
