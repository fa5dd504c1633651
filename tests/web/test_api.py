"""The API says the same as the pages, and says what was wrong."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop


def test_a_case_is_answered_as_on_the_command_line(client: TestClient) -> None:
    case = {"machine": "walk-mower-ohv", "complaint": ["will-not-start"],
            "step": [{"check": "spark-at-tester", "reading": "dark"}]}
    said = client.post("/api/reason", json=case, params={"seconds": 0.1}).json()
    assert said["suspects"][0]["probability"] > 0
    assert said["next"]["kind"] in ("check", "repair", "access", "ask", "stop")


def test_a_bad_case_names_all_that_is_wrong(client: TestClient) -> None:
    answer = client.post("/api/reason", json={"machine": "lawn-mower", "complaint": ["humms"]})
    assert answer.status_code == 422
    assert len(answer.json()["error"]["all"]) == 2


def test_a_step_sent_twice_is_kept_once(client: TestClient, shop: Shop, job: str) -> None:
    step = {"check": "spark-at-tester", "reading": "dark"}
    first = client.post(f"/api/jobs/{job}/steps", params={"act_id": "a1"}, json=step)
    again = client.post(f"/api/jobs/{job}/steps", params={"act_id": "a1"}, json=step)
    assert (first.status_code, again.status_code) == (200, 200)
    assert len(shop.record(job).readings) == 1


def test_an_unknown_job_and_an_unknown_shelf_are_refused_in_words(client: TestClient) -> None:
    assert "no job" in client.get("/api/jobs/none").json()["error"]["what"]
    assert client.get("/api/handbook/spells").status_code == 422
