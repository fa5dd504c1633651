"""What was done without being advised."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.shop import Shop


def test_every_check_of_the_class_can_be_found_by_a_word(client: TestClient, job: str) -> None:
    text = client.get(f"/job/{job}/did", params={"q": "spark"}).text
    assert f'href="/job/{job}/check/spark-at-tester"' in text
    assert "Nothing by that word" in client.get(f"/job/{job}/did", params={"q": "zeppelin"}).text


def test_a_check_shows_its_cautions_before_its_how_to(client: TestClient, job: str) -> None:
    text = client.get(f"/job/{job}/check/spark-at-tester").text
    assert text.index('class="cautions"') < text.index('class="how"') < text.index('value="dark"')


def test_a_check_the_interlock_would_not_advise_can_still_be_written_down(
    client: TestClient, shop: Shop, job: str
) -> None:
    enter(shop, job, {"access": "muffler", "state": "off"}, act_id="x", based_on=1, by="Wren")
    page = client.get(f"/job/{job}/check/engine-stops-on-release")
    assert page.status_code == 200
    said = {"act": "y", "based_on": "9", "check": "engine-stops-on-release", "reading": "stops"}
    assert client.post(f"/job/{job}/step", data=said).status_code == 303
    assert len(shop.record(job).readings) == 1


def test_a_step_the_class_does_not_have_is_refused_in_words(client: TestClient, job: str) -> None:
    answer = client.get(f"/job/{job}/check/points-gap")
    assert answer.status_code == 422
    assert "has no check" in answer.text


def test_a_step_that_nobody_advised_does_not_say_why_it_is_the_one(client: TestClient, job: str) -> None:
    text = client.get(f"/job/{job}/check/spark-at-tester").text
    assert "Before you do it." in text
    assert "Why this one." not in text
    assert "one repair" in client.get(f"/job/{job}/repair/renew-coil").text
