"""The two doors: one that opens only on proof, one that is always open in writing."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop


def test_the_working_door_stays_shut_until_all_is_proved(client: TestClient, shop: Shop, job: str) -> None:
    answer = client.post(f"/job/{job}/release", data={"act": "w", "based_on": "1", "door": "working"})
    assert answer.status_code == 422
    assert "Not yet" in answer.text
    assert shop.record(job).release is None


def test_a_reason_does_not_open_the_door_for_a_safety_proof(client: TestClient, shop: Shop, job: str) -> None:
    said = {"act": "w", "door": "working", "reason-stops-from-its-control": "in a hurry", "reason-starts-cold": "x"}
    assert client.post(f"/job/{job}/release", data=said).status_code == 422
    assert shop.record(job).release is None


def test_the_unmended_door_is_always_open_with_a_reason(client: TestClient, shop: Shop, job: str) -> None:
    without = client.post(f"/job/{job}/release", data={"act": "r", "door": "returned", "why": " "})
    given = client.post(f"/job/{job}/release", data={"act": "r2", "door": "returned", "why": "declined"})
    assert (without.status_code, given.status_code) == (422, 303)
    release = shop.record(job).release
    assert release is not None
    assert release.body["why"] == "declined"
    assert "Because: declined" in client.get(f"/job/{job}/release").text


def test_nothing_is_handed_back_before_a_door_was_passed(client: TestClient, shop: Shop, job: str) -> None:
    assert client.post(f"/job/{job}/release", data={"act": "h", "door": "hand-back", "to": "Ada"}).status_code == 422
    client.post(f"/job/{job}/release", data={"act": "r", "door": "returned", "why": "declined"})
    answer = client.post(f"/job/{job}/release", data={"act": "h2", "door": "hand-back", "to": "Ada"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    assert shop.record(job).closed


def test_a_proof_shown_on_the_release_page_leads_back_to_it(client: TestClient, job: str) -> None:
    said = {"act": "p", "check": "engine-stops-on-release", "reading": "stops", "back": "release"}
    assert client.post(f"/job/{job}/step", data=said).headers["location"] == f"/job/{job}/release"
