"""What can be done meanwhile, and one repair over several machines."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.rounds import LEAST_WAITING
from firstpull.bench.shop import Shop


@pytest.fixture
def mowers(shop: Shop) -> list[str]:
    """Three mowers, just taken in."""
    said = Counter("Bram", "0555", "won't start", "90", "walk-mower-ohv")
    return [take_in(shop, said, act_id=f"in-{n}", by="Wren") for n in range(3)]


@pytest.fixture
def soak(shop: Shop) -> str:
    """A repair that leaves the hands free for long."""
    repairs = [r for r in shop.room.book.repairs.values() if not r.only and r.waiting >= LEAST_WAITING]
    return max(repairs, key=lambda r: (r.waiting, r.id)).id


def test_an_empty_rail_offers_nothing(client: TestClient) -> None:
    assert "The rail is empty" in client.get("/rounds").text


def test_a_round_is_put_in_order_and_entered_on_all_machines_as_one_act(
    client: TestClient, shop: Shop, mowers: list[str], soak: str
) -> None:
    text = client.get("/rounds", params={"step": f"repair:{soak}", "job": mowers[:2]}).text
    assert "on 2 machines" in text
    assert "put it in" in text
    seen = [f"{job}={shop.record(job).last_seq}" for job in mowers[:2]]
    said = {"act": "round-1", "step": f"repair:{soak}", "seen": seen}
    for _ in range(2):
        assert client.post("/rounds", data=said).status_code == 303
    assert [len(shop.record(job).repairs) for job in mowers] == [1, 1, 0]


def test_a_round_that_cannot_be_is_refused_in_one_message_and_enters_nothing(
    client: TestClient, shop: Shop, mowers: list[str], soak: str
) -> None:
    one = {"step": f"repair:{soak}", "job": mowers[:1]}
    for wrong in (one, {"step": "repair:magic", "job": mowers}, {"step": "x", "job": mowers},
                  {"step": f"repair:{soak}", "job": [mowers[0], "99"]}):
        answer = client.get("/rounds", params=wrong)
        assert answer.status_code == 422, wrong
        assert answer.text.count('role="alert"') == 1
    check = {"act": "a", "step": "check:coil-gap", "seen": [f"{mowers[0]}=1", f"{mowers[1]}=1"]}
    assert client.post("/rounds", data=check).status_code == 422
    assert all(shop.record(job).repairs == () for job in mowers)


def test_a_step_of_five_minutes_is_offered_and_one_that_is_not_known_is_not(
    client: TestClient, shop: Shop, mowers: list[str]
) -> None:
    assert "None that is known" in client.get("/rounds").text
    quick = take_in(shop, Counter("Ada", "0555", "won't start", "90", ""), act_id="in-9", by="Wren")
    text = client.get("/rounds").text
    assert f'href="/job/{quick}"' in text
    assert "Say which kind it is, 1 min" in text
    assert f'href="/job/{mowers[0]}"' not in text
