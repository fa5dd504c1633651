"""Two yeses, and nothing above the agreed sum without a new one."""

from __future__ import annotations

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money
from firstpull.bench.approving import approve, limit_warnings
from firstpull.bench.billing import agreed_on, bill_of
from firstpull.bench.estimating import make_estimate
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.shop import Shop
from tests.bench.coil_job import found, how, mended, taken_in


def euros(amount: str) -> Money:
    return Money.of(amount, "EUR")


def test_two_yeses_are_kept_apart_with_who_what_sum_and_how(shop: Shop) -> None:
    job = found(shop)
    approve(shop, job, "find", "Ada Fenwright", "25", "at the counter", **how(shop, job))
    done = approve(shop, job, "mend", "Tam Fenwright", "140,50", "by telephone", **how(shop, job)).done
    first, second = done.record.approvals
    assert (first.body["to"], second.body["to"]) == ("find", "mend")
    assert (second.body["who"], second.body["how"], second.body["sum"]["amount"]) == (
        "Tam Fenwright", "by telephone", "140.50")
    assert agreed_on(done.record).limit == euros("140.50")


def test_the_limit_of_the_counter_holds_until_a_yes_carries_its_own(shop: Shop) -> None:
    job = taken_in(shop, limit="80")
    assert agreed_on(shop.record(job)).limit == euros("80")
    assert approve(shop, job, "find", "Ada", "", "by telephone", **how(shop, job)).agreed.limit == euros("80")
    assert approve(shop, job, "mend", "Ada", "120", "by telephone", **how(shop, job)).agreed.limit == euros("120")


def test_a_no_agrees_to_no_money(shop: Shop) -> None:
    job = found(shop)
    said = approve(shop, job, "mend", "Ada", "", "by telephone", yes=False, **how(shop, job))
    assert said.agreed.limit is None
    assert said.done.record.stage == "declined"
    assert "Ada said no" in said.warnings[0]


def test_an_estimate_above_the_agreed_sum_is_warned_of(shop: Shop) -> None:
    job = found(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    warned = approve(shop, job, "mend", "Ada", "30", "by telephone", **how(shop, job)).warnings
    assert said.high is not None
    assert any(said.high in w and "€30.00" in w for w in warned)
    assert approve(shop, job, "mend", "Ada", "900", "by telephone", **how(shop, job)).warnings == ()


def test_parts_on_order_above_the_agreed_sum_are_warned_of(shop: Shop) -> None:
    job = found(shop, limit="30")
    part_step(shop, job, "ordered", PartSaid("coil", price="35", proof="dark"), **how(shop, job))
    assert any("Parts on order" in w for w in limit_warnings(shop, shop.record(job)))


def test_work_above_the_agreed_sum_is_not_charged_without_a_new_yes(shop: Shop) -> None:
    job = mended(shop)
    approve(shop, job, "mend", "Ada", "50", "by telephone", **how(shop, job))
    owed = bill_of(shop, shop.record(job))
    assert owed.needs_a_yes
    assert owed.may_charge == euros("50")
    assert any("new yes" in w for w in limit_warnings(shop, shop.record(job)))
    approve(shop, job, "mend", "Ada", "200", "by telephone", **how(shop, job))
    assert not bill_of(shop, shop.record(job)).needs_a_yes


@pytest.mark.parametrize(
    ("to", "who", "limit", "way"),
    [("paint", "Ada", "9", "x"), ("find", " ", "9", "x"), ("find", "Ada", "nine", "x"), ("find", "Ada", "9", ""),
     ("find", "Ada", "-9", "x"), ("find", "Ada", "1e99", "x")],
)
def test_a_yes_that_cannot_be_read_is_refused_and_not_kept(
    shop: Shop, to: str, who: str, limit: str, way: str
) -> None:
    job = taken_in(shop)
    with pytest.raises(FirstpullError):
        approve(shop, job, to, who, limit, way, **how(shop, job))
    assert shop.record(job).approvals == ()


def test_everything_wrong_is_said_at_once(shop: Shop) -> None:
    job = taken_in(shop)
    with pytest.raises(FirstpullError) as told:
        approve(shop, job, "paint", "", "nine", "", **how(shop, job))
    assert all(word in str(told.value) for word in ("paint", "no name", "nine", "how it was said"))


def test_a_yes_based_on_an_old_look_waits_when_somebody_else_changed_the_job(shop: Shop) -> None:
    job = found(shop)
    old = how(shop, job)
    part_step(shop, job, "wanted", PartSaid("coil"), **how(shop, job, by="Ines"))
    said = approve(shop, job, "mend", "Ada", "90", "by telephone", **old)
    assert said.done.waits
    assert shop.record(job).approvals == ()
