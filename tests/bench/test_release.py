"""The two doors out: what shuts the one, and that the other always opens."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.base.errors import RefusedError
from firstpull.bench.find import enter, set_value
from firstpull.bench.release import door, hand_back, release_working, return_unmended
from firstpull.bench.shop import Shop


def how(shop: Shop, job: str) -> dict[str, Any]:
    seen = shop.record(job).last_seq
    return {"act_id": f"act-{seen}", "based_on": seen, "by": "Wren"}


def put(shop: Shop, job: str, *steps: dict[str, Any]) -> None:
    for step in steps:
        enter(shop, job, step, **how(shop, job))


def prove(shop: Shop, job: str, but: str = "") -> None:
    """Pass every proof that the machine needs, all but one."""
    for proof in door(shop, job).proofs:
        if proof.id != but:
            wanted = shop.room.book.releases[proof.id]
            put(shop, job, {"check": proof.check, "reading": wanted.outcomes[0], "times": proof.times})
    for item in sorted(door_state(shop, job)):
        added = shop.room.book.access[item].added
        put(shop, job, {"access": item, "state": "off" if added else "on"})


def door_state(shop: Shop, job: str) -> frozenset[str]:
    live = shop.live(shop.record(job))
    assert live is not None
    return live.session.state.away


def test_a_machine_with_every_proof_and_everything_back_on_may_leave_as_working(shop: Shop, mower_job: str) -> None:
    assert not door(shop, mower_job).verdict.allowed
    prove(shop, mower_job)
    assert door(shop, mower_job).verdict.hindrances == ()
    release_working(shop, mower_job, {}, **how(shop, mower_job))
    hand_back(shop, mower_job, "Ada Fenwright", "fresh", **how(shop, mower_job))
    assert shop.record(mower_job).closed


def test_every_safety_proof_alone_keeps_the_door_shut_and_no_reason_opens_it(shop: Shop, mower_job: str) -> None:
    safety = [p for p in door(shop, mower_job).proofs if p.safety]
    assert safety
    prove(shop, mower_job, but=safety[0].id)
    reasons = {safety[0].id: "the owner is in a hurry"}
    with pytest.raises(RefusedError, match=safety[0].name):
        release_working(shop, mower_job, reasons, **how(shop, mower_job))


@pytest.mark.parametrize("word", ["now-and-then", "not-possible", "not-done"])
def test_undecided_counts_as_not_passed(shop: Shop, mower_job: str, word: str) -> None:
    proof = next(p for p in door(shop, mower_job).proofs if p.safety)
    prove(shop, mower_job)
    put(shop, mower_job, {"check": proof.check, "reading": word})
    after = next(p for p in door(shop, mower_job).proofs if p.id == proof.id)
    assert (after.result == "passed") is (word == "not-done")


def test_a_repair_asks_for_its_proofs_anew_and_for_its_values(shop: Shop, mower_job: str) -> None:
    prove(shop, mower_job)
    put(shop, mower_job, {"repair": "mend-stop-lead"})
    found = door(shop, mower_job).verdict.hindrances
    assert {h.kind for h in found} >= {"proof", "value"}
    set_value(shop, mower_job, "stop-path", "0.4", "ohm", **how(shop, mower_job))
    assert "value" not in {h.kind for h in door(shop, mower_job).verdict.hindrances}


def test_with_the_stop_lead_off_nothing_opens_the_door(shop: Shop, mower_job: str) -> None:
    prove(shop, mower_job)
    put(shop, mower_job, {"access": "stop-lead", "state": "off"}, {"access": "cover", "state": "on"})
    found = door(shop, mower_job, {"stop-lead": "never mind"})
    assert found.unstoppable
    assert "red" in {h.kind for h in found.verdict.hindrances}


def test_what_is_done_after_the_release_shuts_the_door_again(shop: Shop, mower_job: str) -> None:
    prove(shop, mower_job)
    release_working(shop, mower_job, {}, **how(shop, mower_job))
    put(shop, mower_job, {"access": "guard", "state": "off"})
    with pytest.raises(RefusedError, match="since its release"):
        hand_back(shop, mower_job, "Ada Fenwright", "", **how(shop, mower_job))


def test_any_machine_may_go_back_unmended_with_its_state_in_writing(shop: Shop, mower_job: str) -> None:
    with pytest.raises(RefusedError, match="neither"):
        hand_back(shop, mower_job, "Ada Fenwright", "", **how(shop, mower_job))
    put(shop, mower_job, {"access": "cover", "state": "off"})
    with pytest.raises(RefusedError, match="no reason"):
        return_unmended(shop, mower_job, " ", **how(shop, mower_job))
    done = return_unmended(shop, mower_job, "declined", **how(shop, mower_job))
    assert done.record.release is not None
    assert any("still off" in line for line in done.record.release.body["missing"])
    hand_back(shop, mower_job, "Ada Fenwright", "", **how(shop, mower_job))
    assert shop.record(mower_job).closed
