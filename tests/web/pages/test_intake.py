"""The counter: four musts, all that is wrong at once, nothing typed is lost."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop

SAID = {"act": "i1", "who": "Ada Fenwright", "number": "0555 0101", "complaint": "no spark, I think", "limit": "90",
        "machine": "walk-mower-ohv"}


def test_a_machine_is_taken_in_with_four_musts(client: TestClient, shop: Shop) -> None:
    answer = client.post("/take-in", data=SAID)
    assert answer.status_code == 303
    record = shop.record(answer.headers["location"].rsplit("/", 1)[1])
    assert record.words == ("no spark, I think",)


def test_tapped_complaints_stand_before_the_customers_own_words(client: TestClient, shop: Shop) -> None:
    said = {**SAID, "tapped": ["Will not start", "Smells of fuel"], "complaint": "since Sunday"}
    job = client.post("/take-in", data=said).headers["location"].rsplit("/", 1)[1]
    record = shop.record(job)
    assert record.words == ("Will not start, Smells of fuel, since Sunday",)
    assert {"will-not-start", "smells-of-fuel"} <= set(record.complaint)


def test_the_same_counter_form_sent_twice_hangs_one_tag(client: TestClient, shop: Shop) -> None:
    first, second = (client.post("/take-in", data=SAID).headers["location"] for _ in range(2))
    assert first == second
    assert len(shop.store.jobs()) == 1


def test_everything_missing_is_said_at_once_and_what_was_typed_stays(client: TestClient, shop: Shop) -> None:
    answer = client.post("/take-in", data={"act": "i2", "who": "Bram Oakley", "told": "struck-something"})
    assert answer.status_code == 422
    for missing in ("No number", "No complaint", "No spending limit"):
        assert missing in answer.text
    assert 'value="Bram Oakley"' in answer.text
    assert 'value="struck-something" checked' in answer.text
    assert shop.store.jobs() == ()


def test_hostile_words_are_kept_as_words(client: TestClient) -> None:
    hostile = '"><img src=x onerror=alert(1)>'
    page = client.post("/take-in", data={**SAID, "complaint": hostile}).headers["location"]
    assert hostile not in client.get(page).text
    assert "&gt;&lt;img" in client.get(page).text
