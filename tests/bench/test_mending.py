"""From belief to what mending takes."""

from __future__ import annotations

import pytest

from firstpull.bench.find import session_of
from firstpull.bench.mending import cheapest_cure, minutes, suspects
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.safety.state import at_rest
from tests.bench.coil_job import found, put, taken_in


def of(shop: Shop, job: str) -> Session:
    return session_of(shop, shop.record(job))


def test_suspects_share_what_the_handbook_knows_and_leave_the_rest_open(shop: Shop) -> None:
    session = of(shop, taken_in(shop))
    odds = sum(s.probability for s in suspects(session, "EUR"))
    assert 0.9 < odds <= 1.0
    assert odds == pytest.approx(1.0 - session.belief().outside, abs=0.02)


def test_each_suspect_is_cured_by_the_repairs_it_is_priced_with(shop: Shop) -> None:
    session = of(shop, found(shop))
    for faults, _ in session.belief().suspects[:40]:
        repairs = cheapest_cure(session, faults)
        assert repairs is None or set(faults) <= {f for r in repairs for f in session.book.repairs[r].cures}


def test_a_cheaper_repair_that_cures_the_same_is_chosen(shop: Shop) -> None:
    session = of(shop, taken_in(shop))
    both = [r.id for r in session.book.repairs.values() if "air-gap-wide" in r.cures]
    assert "renew-coil" in both
    assert cheapest_cure(session, ["air-gap-wide"]) == ("set-coil-gap",)


def test_nothing_wrong_needs_nothing_and_an_unknown_fault_has_no_price(shop: Shop) -> None:
    session = of(shop, taken_in(shop))
    assert cheapest_cure(session, []) == ()
    assert cheapest_cure(session, ["gremlins"]) is None


def test_minutes_hold_the_way_there_and_back_and_shrink_when_the_cover_is_off_already(shop: Shop) -> None:
    job = taken_in(shop)
    whole = minutes(of(shop, job), ("renew-coil",))
    assert whole.low < whole.usual < whole.high
    assert whole.usual > shop.room.book.repairs["renew-coil"].minutes
    put(shop, job, {"access": "cover", "state": "off"})
    opened = of(shop, job)
    assert minutes(opened, ("renew-coil",)).usual < whole.usual
    assert minutes(opened, ("renew-coil",), at_rest(opened.book.access)) == whole
    assert minutes(opened, ()).high == 0.0


def test_two_repairs_under_one_cover_open_it_once(shop: Shop) -> None:
    session = of(shop, taken_in(shop))
    alone = minutes(session, ("renew-coil",)).usual + minutes(session, ("clean-magnets",)).usual
    assert minutes(session, ("renew-coil", "clean-magnets")).usual < alone


def test_what_was_done_already_is_part_of_every_price(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"repair": "renew-plug"}, {"check": "will-not-start", "reading": "still"})
    for one in suspects(of(shop, job), "EUR"):
        assert "renew the plug" in one.name
        assert "spark plug" in [p.name for p in one.parts]


def test_a_locked_repair_is_never_the_price(shop: Shop) -> None:
    for machine in shop.room.book.machines:
        if not machine.startswith("generator"):
            continue
        session = of(shop, taken_in(shop, machine=machine, complaint="no power at the socket"))
        for fault in session.book.faults:
            assert all(not session.book.repairs[r].locked for r in cheapest_cure(session, [fault]) or ())
