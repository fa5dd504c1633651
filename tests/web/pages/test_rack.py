"""The rack: what hangs first, and what a search finds."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.short import SHORT_KEY


def test_an_empty_rail_says_what_fills_it(client: TestClient) -> None:
    assert "The rail is empty" in client.get("/").text


def test_an_engine_that_cannot_be_stopped_hangs_first(client: TestClient, shop: Shop, job: str) -> None:
    said = Counter("Bram", "0555", "kicks back", "60", "walk-mower-ohv")
    other = take_in(shop, said, act_id="in-2", by="Wren")
    enter(shop, other, {"access": "stop-lead", "state": "off"}, act_id="x", based_on=1, by="Wren")
    text = client.get("/").text
    assert "Cannot be stopped" in text
    assert text.index(f'href="/job/{other}"') < text.index(f'href="/job/{job}"')


def test_a_search_finds_by_word_and_says_when_nothing_does(client: TestClient, job: str) -> None:
    assert f'href="/job/{job}"' in client.get("/", params={"q": "spark"}).text
    assert "No tag says that" in client.get("/", params={"q": "zeppelin"}).text


def test_open_fuel_is_told_on_the_rack_and_on_the_tag_it_belongs_to(client: TestClient, shop: Shop, job: str) -> None:
    said = Counter("Bram", "0555", "won't start", "60", "walk-mower-ohv")
    other = take_in(shop, said, act_id="in-2", by="Wren")
    assert "Fuel" not in client.get("/").text
    mark = shop.mark(shop.record(job))
    short = {"mark": mark, "name": "Spark at the tester", "minutes": 2, "left": 30, "lights": True}
    shop.store.put_setting(f"{SHORT_KEY}-{job}", short)
    enter(shop, other, {"access": "bowl", "state": "off"}, act_id="x", based_on=1, by="Wren")
    text = client.get("/").text
    assert f"Fuel is open on job {other}" in text
    assert "Fuel open: bowl or metering cover" in text
    assert f"Not beside {other}: fuel is open there" in text
