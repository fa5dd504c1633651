"""The shop's settings and those of one screen."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop

SHOP = {"part": "shop", "rate": "75", "altitude": "600", "air": "12,5", "tool": ["ohmmeter", "feelers"]}


def test_the_shop_says_what_it_has_and_charges(client: TestClient, shop: Shop) -> None:
    assert client.post("/settings", data=SHOP).status_code == 303
    prices = shop.prices()
    assert prices.rate_per_hour == 75
    assert prices.owned is not None
    assert {"ohmmeter", "feelers"} == {t for t in prices.owned if not shop.room.book.instruments[t].bare}
    assert shop.store.get_setting("conditions") == {"altitude_m": 600.0, "air_c": 12.5}


def test_what_cannot_be_read_changes_nothing(client: TestClient, shop: Shop) -> None:
    for wrong in ({"rate": "plenty"}, {"altitude": "up"}, {"air": "400"}, {"tool": "wand"}, {"rate": "-1"}):
        assert client.post("/settings", data={**SHOP, **wrong}).status_code == 422, wrong
    assert shop.store.get_setting("conditions") is None
    assert shop.store.get_setting("instruments") is None


def test_a_screen_in_the_sun_has_no_greys_and_remembers_who_works_at_it(client: TestClient) -> None:
    answer = client.post("/settings", data={"part": "screen", "sun": "1", "hand": "left", "who": "Ines"})
    assert answer.status_code == 303
    text = client.get("/").text
    assert "data-sun" in text
    assert "data-left" in text
    client.post("/settings", data={"part": "screen"})
    assert "data-sun" not in client.get("/").text


def test_units_and_blades_are_kept_and_a_wrong_blade_keeps_nothing(client: TestClient, shop: Shop) -> None:
    said = {"part": "units", "unit-length": "thou", "unit-pressure": "bar", "blades": "0.25, 12 thou"}
    assert client.post("/settings", data=said).status_code == 303
    assert 'name="unit-length" value="thou" checked' in client.get("/settings").text
    answer = client.post("/settings", data={**said, "unit-length": "mm", "blades": "thin"})
    assert answer.status_code == 422
    assert answer.text.count('role="alert"') == 1
    assert shop.store.get_setting("units") == {"length": "thou", "pressure": "bar"}
