"""A strip for those who ask."""

from __future__ import annotations

from starlette.testclient import TestClient


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
