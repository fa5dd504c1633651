"""What is refused at the door, and what every answer carries."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from firstpull.bench.shop import Shop
from firstpull.web.guard import HEADERS, LARGEST_FORM


@pytest.mark.parametrize("origin", ["http://elsewhere.test", "null", "http://testserver.elsewhere.test", "https://"])
def test_a_form_from_another_page_is_refused(client: TestClient, job: str, origin: str) -> None:
    answer = client.post(f"/job/{job}/note", data={"act": "n", "text": "x"}, headers={"origin": origin})
    assert answer.status_code == 403
    assert "another page" in answer.text


def test_a_form_without_origin_passes_only_from_our_own_site(client: TestClient, job: str) -> None:
    del client.headers["origin"]
    foreign = client.post(f"/job/{job}/note", data={"act": "n", "text": "x"}, headers={"sec-fetch-site": "cross-site"})
    own = client.post(f"/job/{job}/note", data={"act": "n", "text": "x"}, headers={"sec-fetch-site": "same-origin"})
    assert (foreign.status_code, own.status_code) == (403, 303)


@pytest.mark.parametrize("host", ["shop.elsewhere.test", "127.0.0.1.elsewhere.test", "192.168.0.7"])
def test_a_name_that_is_not_this_machine_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 400


def test_a_body_too_large_is_refused_before_it_is_read(client: TestClient, job: str) -> None:
    answer = client.post(f"/job/{job}/note", content=b"text=" + b"x" * LARGEST_FORM)
    assert answer.status_code == 413
    assert "nothing was kept" in answer.text


@pytest.mark.parametrize("length", ["-1", "many", "9" * 30])
def test_a_length_that_is_none_is_refused(client: TestClient, job: str, length: str) -> None:
    answer = client.post(f"/job/{job}/note", content=b"text=x", headers={"content-length": length})
    assert answer.status_code == 413


def test_a_body_of_unsaid_length_is_refused(client: TestClient, job: str) -> None:
    def pieces() -> Iterator[bytes]:
        yield b"text=x"

    answer = client.post(f"/job/{job}/note", content=pieces())
    assert answer.status_code == 411


def test_nothing_refused_was_stored(client: TestClient, shop: Shop, job: str) -> None:
    before = shop.record(job).last_seq
    client.post(f"/job/{job}/note", data={"act": "n", "text": "x"}, headers={"origin": "http://elsewhere.test"})
    client.post(f"/job/{job}/note", content=b"act=n&text=" + b"x" * LARGEST_FORM)
    assert shop.record(job).last_seq == before


@pytest.mark.parametrize("path", ["/", "/take-in", "/static/sheet.css", "/api/handbook/faults", "/job/none"])
def test_every_answer_carries_the_policy(client: TestClient, path: str) -> None:
    answer = client.get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value
    assert "unsafe" not in answer.headers["Content-Security-Policy"]


def test_pages_are_not_kept_by_the_browser_and_styles_are(client: TestClient) -> None:
    assert client.get("/").headers["cache-control"] == "no-store"
    assert "max-age" in client.get("/static/sheet.css").headers["cache-control"]
