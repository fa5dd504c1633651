"""The money path as a stranger walks it: a limit of 80, an estimate above it, a yes, the repair, bill and papers."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pypdf
import pytest

from firstpull.base.errors import RefusedError
from firstpull.base.money import Money
from firstpull.bench.approving import approve
from firstpull.bench.billing import bill_of
from firstpull.bench.clocking import set_clock
from firstpull.bench.estimating import make_estimate, phone_card
from firstpull.bench.find import enter, set_value
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.ourselves import keep_charges, keep_shop_words
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.printing import print_sheet
from firstpull.bench.release import WithIt, door, hand_back, release_working, return_unmended
from firstpull.bench.shop import Done, Shop
from firstpull.bench.worldroom import WorldRoom
from firstpull.workshop.storage import open_store

MORNING = datetime(2026, 4, 11, 8, 0, tzinfo=UTC)


class Bench:
    """One pair of hands at one job, with a clock that moves when it is told to."""

    def __init__(self, shop: Shop) -> None:
        self.shop, self.now, self.acts = shop, MORNING, 0
        shop.clock = lambda: self.now
        said = Counter("Orla Quince", "0555 0117", "won't start, I think no spark", "80", "walk-mower-ohv")
        self.job = take_in(shop, said, act_id="in", by="Ines")

    def how(self) -> dict[str, Any]:
        self.acts += 1
        return {"act_id": f"a{self.acts}", "based_on": self.shop.record(self.job).last_seq, "by": "Ines"}

    def put(self, *steps: dict[str, Any]) -> None:
        for step in steps:
            enter(self.shop, self.job, step, **self.how())

    def clock(self, state: str, minutes: float = 0.0) -> Done:
        self.now += timedelta(minutes=minutes)
        return set_clock(self.shop, self.job, state, **self.how())

    def paper(self, kind: str) -> str:
        pages = pypdf.PdfReader(io.BytesIO(print_sheet(self.shop, self.job, kind))).pages
        return " ".join(" ".join(page.extract_text() for page in pages).split())

    def prove(self) -> None:
        for proof in door(self.shop, self.job).proofs:
            outcome = self.shop.room.book.releases[proof.id].outcomes[0]
            self.put({"check": proof.check, "reading": outcome, "times": proof.times})
        live = self.shop.live(self.shop.record(self.job))
        assert live is not None
        for item in sorted(live.session.state.away):
            self.put({"access": item, "state": "off" if self.shop.room.book.access[item].added else "on"})


@pytest.fixture
def bench(tmp_path: Path, room: WorldRoom) -> Iterator[Bench]:
    store = open_store(tmp_path / "record.sqlite")
    shop = Shop(store, room)
    keep_shop_words(shop, {"name": "Harrow Vale repair bench", "lines": ["3 Mill Yard"], "currency": "EUR",
                           "locale": "en_IE", "warranty": ["Parts and labour for 90 days."]})
    keep_charges(shop, {"rate_per_hour": "60", "find_fee": "25", "tax": "0.2", "reassembly_fee": "15"})
    yield Bench(shop)
    store.close()


def found_dark(bench: Bench) -> None:
    """No spark, not even with the stop lead off."""
    dark = {"check": "spark-at-tester", "reading": "dark"}
    bench.put({"access": "control-held", "state": "on"}, dark, {"access": "stop-lead", "state": "off"}, dark)


def test_from_a_limit_of_80_over_an_estimate_above_it_to_a_bill_that_keeps_to_the_yes(bench: Bench) -> None:
    shop, job = bench.shop, bench.job
    assert "€80.00" in bench.paper("receipt")
    found_dark(bench)

    card = phone_card(shop, job)
    assert "likely, not proved" in card.sentence
    assert "renew the coil" in card.sentence
    assert "€80.00" in card.warning
    _, said = make_estimate(shop, job, how="telephone", **bench.how())
    assert said.high == card.high
    assert str(said.high) in bench.paper("estimate")

    with pytest.raises(RefusedError):
        bench.paper("approval")
    low = approve(shop, job, "mend", "Orla Quince", "60", "by telephone", **bench.how())
    assert any(str(said.high) in w for w in low.warnings)
    enough = approve(shop, job, "mend", "Orla Quince", "200", "by telephone", **bench.how())
    assert enough.warnings == ()
    slip = bench.paper("approval")
    assert "€200.00" in slip
    assert "€60.00" not in slip

    part_step(shop, job, "ordered", PartSaid("coil", price="35", proof="dark with the stop lead off"), **bench.how())
    part_step(shop, job, "fitted", PartSaid("coil", number="HV-1180", condition="new"), **bench.how())
    bench.clock("started")
    bench.put({"repair": "renew-coil"})
    set_value(shop, job, "air-gap", "0.28", "mm", **bench.how())
    bench.clock("paused", minutes=40)

    with pytest.raises(RefusedError):
        release_working(shop, job, {}, **bench.how())
    bench.prove()
    release_working(shop, job, {}, **bench.how())

    # 25 find + 40 labour + 35 coil - 25 credited = 75; with a fifth of tax 90.
    owed = bill_of(shop, shop.record(job))
    assert owed.total.due.usual == owed.may_charge == Money.of("90.00", "EUR")
    hand_back(shop, job, "Orla Quince", "half full, fresh today", with_it=WithIt("90", "in cash"), **bench.how())
    assert shop.record(job).closed
    assert bill_of(shop, shop.record(job)).open == Money.of(0, "EUR")

    bill, sheet = bench.paper("bill"), bench.paper("hand-over")
    for word in ("€90.00", "€15.00", "40 minutes by the clock", "HV-1180", "€90.00 in cash", "half full, fresh today"):
        assert word in bill
    for word in ("Harrow Vale repair bench", "Coil", "0.28 mm", "To specification", "HV-1180",
                 "half full, fresh today", "Parts and labour for 90 days.", "Orla Quince"):
        assert word in sheet
    for proof in door(shop, job).proofs:
        assert proof.name in sheet


def test_work_that_came_to_more_than_the_yes_is_not_charged(bench: Bench) -> None:
    shop, job = bench.shop, bench.job
    found_dark(bench)
    approve(shop, job, "mend", "Orla Quince", "80", "at the counter", **bench.how())
    bench.clock("started")
    bench.put({"repair": "renew-coil"})
    bench.clock("paused", minutes=75)
    part_step(shop, job, "fitted", PartSaid("coil", price="35"), **bench.how())
    owed = bill_of(shop, shop.record(job))
    assert owed.total.due.usual == Money.of("132", "EUR")  # (25 + 75 + 35 - 25) and a fifth
    assert owed.may_charge == Money.of("80", "EUR")
    assert "€52.00 above the agreed sum is not charged without a new yes." in bench.paper("bill")


def test_a_no_costs_what_was_told_at_the_counter_and_the_machine_goes_home_with_its_state_in_writing(
    bench: Bench,
) -> None:
    shop, job = bench.shop, bench.job
    found_dark(bench)
    make_estimate(shop, job, how="telephone", **bench.how())
    assert "€48.00 in all" in bench.paper("estimate")  # finding 25, putting back 15, a fifth of tax
    approve(shop, job, "mend", "Orla Quince", "", "by telephone", yes=False, **bench.how())
    return_unmended(shop, job, "Declined: too dear for an old mower.", **bench.how())
    hand_back(shop, job, "Orla Quince", "", with_it=WithIt("48", "by card"), **bench.how())
    sheet = bench.paper("returned")
    reason = "Declined: too dear for an old mower."
    for word in (reason, "€48.00", "Stop lead at the coil", "no start until it is back"):
        assert word in sheet
    with pytest.raises(RefusedError):
        bench.paper("hand-over")
