"""What the owner sees, and the owner's yes or no."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from firstpull.bench.answer import answer
from firstpull.bench.find import enter, session_of
from firstpull.bench.reckoner import Known
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.web import guard


def test_the_owner_is_not_told_a_cause_that_is_not_known(client: TestClient, job: str) -> None:
    text = client.get(f"/job/{job}/owner").text
    assert "We do not know yet." in text
    assert "in 100" not in text
    assert "Likely, not proved" in text


def test_a_yes_is_kept_with_the_estimate_it_answers(client: TestClient, shop: Shop, job: str) -> None:
    said = {"act": "y", "based_on": "1", "said": "mend", "who": "Ada Fenwright", "sum": "80", "how": "by telephone"}
    for _ in range(2):
        assert client.post(f"/job/{job}/owner", data=said).status_code == 303
    record = shop.record(job)
    assert (len(record.estimates), len(record.approvals)) == (1, 1)
    assert record.approvals[0].body["estimate"] == record.estimates[0].act_id
    assert "Ada Fenwright said yes to mend it" in client.get(f"/job/{job}/owner").text


def test_a_no_is_kept_without_a_sum(client: TestClient, shop: Shop, job: str) -> None:
    said = {"act": "n", "based_on": "1", "said": "leave", "who": "Ada", "sum": "80", "how": "at the counter"}
    assert client.post(f"/job/{job}/owner", data=said).status_code == 303
    body = shop.record(job).approvals[0].body
    assert (body["yes"], body.get("sum")) == (False, None)


def test_nobody_says_yes_without_a_name(client: TestClient, shop: Shop, job: str) -> None:
    said = {"act": "y", "based_on": "1", "said": "mend", "who": "", "how": "by telephone"}
    answer = client.post(f"/job/{job}/owner", data=said)
    assert answer.status_code == 422
    assert "No name" in answer.text
    assert shop.record(job).approvals == ()


def test_a_yes_on_a_stale_page_waits_for_a_look(client: TestClient, shop: Shop, job: str) -> None:
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="other", based_on=1, by="Ines")
    said = {"act": "y", "based_on": "1", "said": "mend", "who": "Ada", "sum": "80", "how": "at the counter"}
    assert client.post(f"/job/{job}/owner", data=said).status_code == 409
    assert shop.record(job).approvals == ()


def test_a_sheet_that_needs_the_settled_answer_waits_in_the_page_and_not_in_the_request(
    client: TestClient, shop: Shop, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(guard, "GLANCE_SECONDS", 0.05)
    shop.pool = pool = Pool(shop.room.book)  # its workers are never started
    waits = client.get(f"/job/{job}/owner")
    assert waits.status_code == 202
    assert waits.headers["retry-after"] == "2"
    for word in ("Still reckoning", 'http-equiv="refresh"', "data-wait", f'href="/job/{job}/owner"'):
        assert word in waits.text
    record = shop.record(job)
    pool._known[job] = Known(shop.mark(record), True, answer(session_of(shop, record)), False)
    there = client.get(f"/job/{job}/owner")
    assert there.status_code == 200
    assert "We do not know yet." in there.text
