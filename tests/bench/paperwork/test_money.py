"""Papers about money."""

from __future__ import annotations

import pytest

from firstpull.base.errors import RefusedError
from firstpull.bench.approving import approve
from firstpull.bench.estimating import make_estimate
from firstpull.bench.ourselves import keep_charges
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.money import BEYOND, DETAILED, approval, bill, estimate
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, gone_home, how, mended, taken_in


def test_an_estimate_is_an_option_for_each_likely_mend_with_its_highest_price(shop: Shop) -> None:
    job = found(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    sheet = estimate(job_file(shop, job))
    assert [o.totals[-1].amount for o in sheet.options] == [one.high for one in said.likely]
    assert sheet.valid_until == said.valid_until
    assert said.warning in sheet.notes


def test_where_much_is_possible_the_likeliest_have_lines_and_the_others_one_each(shop: Shop) -> None:
    job = taken_in(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    assert len(said.likely) > DETAILED
    sheet = estimate(job_file(shop, job))
    assert [line.what for line in sheet.options[-1].lines] == [one.name for one in said.likely[DETAILED:]]
    assert len(sheet.options) == DETAILED + 1


def test_a_seasonal_service_is_one_more_way_where_the_shop_has_one(shop: Shop) -> None:
    keep_charges(shop, {"seasonal": {"name": "Yearly service", "price": "46"}})
    job = found(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    assert estimate(job_file(shop, job)).options[-1].totals[0].amount == said.with_service is not None


def test_only_a_yes_makes_a_slip(shop: Shop) -> None:
    job = found(shop)
    approve(shop, job, "mend", "Ada", "", "by telephone", yes=False, **how(shop, job))
    with pytest.raises(RefusedError):
        approval(job_file(shop, job))
    approve(shop, job, "find", "Ada", "", "by telephone", **how(shop, job))
    slip = approval(job_file(shop, job))
    assert (slip.approves, slip.up_to, slip.beyond) == ("to find it", "€80.00", BEYOND)
    assert slip.work == ()


def test_a_bill_above_the_agreed_sum_says_what_waits_for_a_yes(shop: Shop) -> None:
    job = mended(shop)
    approve(shop, job, "mend", "Ada", "50", "by telephone", **how(shop, job))
    sheet = bill(job_file(shop, job))
    totals = {t.label: t.amount for t in sheet.totals}
    assert totals["Charged"] == totals["Agreed, no more than"] == "€50.00"
    assert any("new yes" in n for n in sheet.notes)
    assert sheet.paid is None
    assert sheet.fuel is None


def test_the_sum_is_carried_line_by_line(shop: Shop) -> None:
    sheet = bill(job_file(shop, gone_home(shop)))
    assert sheet.lines[-1].running == sheet.totals[0].amount
    assert sheet.paid is not None
    assert sheet.to[0] == "Ada Fenwright"
