"""The letter about a machine that nobody fetches."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from firstpull.base.errors import FirstpullError, RefusedError
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.unfetched import RULE_KEY, abandoned, rule_of, where_it_stands
from firstpull.bench.release import release_working, return_unmended
from firstpull.bench.shop import Shop
from tests.bench.coil_job import how, mended, prove, words_on

RULE = {"days_after_ready": 30, "notice_days": 90, "how": ["registered post"],
        "storage_per_day": {"amount": "2", "currency": "EUR"}, "source": "our own terms, number 5"}


def ready(shop: Shop) -> str:
    job = mended(shop)
    prove(shop, job)
    release_working(shop, job, {}, **how(shop, job))
    return job


def test_no_law_is_built_in(shop: Shop) -> None:
    job = ready(shop)
    assert rule_of(shop) is None
    with pytest.raises(RefusedError, match="no rule"):
        abandoned(job_file(shop, job))


def test_a_rule_that_lacks_a_number_is_refused(shop: Shop) -> None:
    shop.store.put_setting(RULE_KEY, {"notice_days": 90})
    with pytest.raises(FirstpullError):
        rule_of(shop)


def test_no_letter_goes_out_before_its_day(shop: Shop) -> None:
    shop.store.put_setting(RULE_KEY, RULE)
    with pytest.raises(RefusedError, match="wait"):
        abandoned(job_file(shop, ready(shop)))


def test_the_letter_counts_days_storage_and_calls_and_names_the_rule(shop: Shop) -> None:
    shop.store.put_setting(RULE_KEY, RULE)
    job = ready(shop)
    shop.do(job, "abandoned", {"step": "called", "how": "telephone 0555 0101", "words": "no answer"}, **how(shop, job))
    shop.clock = lambda: datetime(2026, 6, 10, 12, 0, tzinfo=UTC)  # 60 days after it was ready
    assert where_it_stands(shop, shop.record(job)).step == "give-notice"
    sheet = words_on(shop, job, "abandoned")
    for word in ("Ada Fenwright", "€120.00", "telephone 0555 0101", "no answer", "our own terms, number 5",
                 "registered post", "September 8, 2026", "April 11, 2026"):
        assert word in sheet


def test_a_machine_that_was_not_shown_to_be_safe_is_never_called_working(shop: Shop) -> None:
    shop.store.put_setting(RULE_KEY, RULE)
    job = mended(shop)
    return_unmended(shop, job, "unsafe", **how(shop, job))
    shop.clock = lambda: datetime(2026, 6, 10, 12, 0, tzinfo=UTC)
    assert "not as a working one" in abandoned(job_file(shop, job)).then[0]
