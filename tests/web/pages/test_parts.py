"""Parts from wanted to fitted, in the browser."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop


@pytest.fixture
def plain(shop: Shop) -> str:
    """A job whose kind of machine nobody said yet, so that nothing is reckoned."""
    return take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in-1", by="Wren")


def send(client: TestClient, job: str, act: str, **fields: str) -> int:
    return int(client.post(f"/job/{job}/parts", data={"act": act, "based_on": "9", **fields}).status_code)


def test_a_part_goes_from_wanted_to_fitted_and_each_step_is_offered_when_it_can_be_next(
    client: TestClient, plain: str
) -> None:
    page = f"/job/{plain}/parts"
    assert "No part yet" in client.get(page).text
    said = {"part": "Coil", "cost": "31.50", "supplier": "Harrow Vale Stores", "state": "wanted"}
    assert send(client, plain, "a", **said) == 303
    for state, offered in (("ordered", "It is here"), ("arrived", "Fitted"), ("fitted", "")):
        assert send(client, plain, state, part="Coil", line="Coil", state=state) == 303
        buttons = re.findall(r'aria-label="Coil: ([^"]+)"', client.get(page).text)
        assert buttons[:1] == ([offered] if offered else [])
    assert "Harrow Vale Stores" in client.get(page).text


def test_a_part_sent_twice_is_kept_once(client: TestClient, shop: Shop, plain: str) -> None:
    for _ in range(2):
        assert send(client, plain, "a", part="Plug", state="wanted") == 303
    assert len(shop.record(plain).parts) == 1


def test_what_cannot_be_read_keeps_nothing_and_loses_nothing_that_was_typed(
    client: TestClient, shop: Shop, plain: str
) -> None:
    for wrong in ({"part": ""}, {"cost": "plenty"}, {"state": "stolen"}, {"condition": "shiny"}, {"quantity": "0"}):
        fields = {"part": "Coil", "supplier": "Harrow Vale Stores", "state": "wanted", **wrong}
        answer = client.post(f"/job/{plain}/parts", data={"act": "a", "based_on": "1", **fields})
        assert answer.status_code == 422, wrong
        assert answer.text.count('role="alert"') == 1
        assert 'value="Harrow Vale Stores"' in answer.text
    assert shop.record(plain).parts == ()


def test_an_order_without_a_proof_is_kept_and_says_so(client: TestClient, plain: str) -> None:
    assert send(client, plain, "a", part="Coil", state="ordered") == 303
    assert "ordered without a proof on record" in client.get(f"/job/{plain}/parts").text


def test_the_order_of_the_shop_puts_equal_parts_of_one_supplier_together(
    client: TestClient, shop: Shop, plain: str
) -> None:
    assert "Nothing is wanted" in client.get("/parts").text
    other = take_in(shop, Counter("Bram", "0555", "won't start", "90", ""), act_id="in-2", by="Wren")
    for job in (plain, other):
        said = {"part": "Plug", "number": "P1", "supplier": "Harrow Vale Stores", "state": "wanted"}
        assert send(client, job, f"a{job}", **said) == 303
    text = client.get("/parts").text
    assert "2 x Plug" in text
    assert f'href="/job/{plain}/parts"' in text
    assert f'href="/job/{other}/parts"' in text
