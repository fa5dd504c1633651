"""A strip for those who ask."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.shop import Shop


def test_a_strip_comes_as_picture_and_as_table(client: TestClient, job: str) -> None:
    text = client.get(f"/job/{job}/strip/coil-gap").text
    assert text.count("<title id=") == 3
    assert "<table" in text
    assert "Healthy machine" in text


def test_a_strip_is_not_on_the_job_page_before_it_is_asked_for(client: TestClient, job: str) -> None:
    assert "strip-picture" not in client.get(f"/job/{job}").text


def test_what_has_no_strip_says_so(client: TestClient, job: str) -> None:
    assert "This one has no strip" in client.get(f"/job/{job}/strip/will-not-start").text
    assert client.get(f"/job/{job}/strip/points-gap").status_code == 422


def test_what_was_read_is_marked_on_its_strip_and_reached_from_the_job(
    client: TestClient, shop: Shop, job: str
) -> None:
    assert "Read " not in client.get(f"/job/{job}/strip/coil-gap").text
    enter(shop, job, {"check": "coil-gap", "reading": "0.9 mm"}, act_id="a", based_on=1, by="Wren")
    text = client.get(f"/job/{job}/strip/coil-gap").text
    assert "0.9 mm</b>" in text
    assert text.count('class="s-mark"') == 3
    assert f'href="/job/{job}/strip/coil-gap"' in client.get(f"/job/{job}").text


def test_a_strip_is_drawn_in_the_unit_of_the_shop(client: TestClient, shop: Shop, job: str) -> None:
    shop.store.put_setting("units", {"length": "thou"})
    assert "half lie between, thou" in client.get(f"/job/{job}/strip/coil-gap").text
    card = client.get(f"/job/{job}/check/coil-gap").text
    assert 'value="thou" checked' in card
