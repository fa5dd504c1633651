"""What a page weighs on its way to a phone: compressed, with everything that it asks for."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from firstpull.bench.shop import Shop

MOST_BYTES = 150_000
ASKED_FOR = re.compile(r'<(?:link rel="stylesheet" href|script src|img src)="([^"]+)"')


def sent(client: TestClient, path: str) -> tuple[int, str]:
    """The bytes that went over the line for a path, and its text."""
    with client.stream("GET", path, headers={"accept-encoding": "gzip"}) as answer:
        assert answer.status_code == 200, path
        raw = list(answer.iter_raw())
    return sum(map(len, raw)), client.get(path).text


@pytest.mark.parametrize("page", ["/", "/job/{job}", "/job/{job}/did", "/job/{job}/release", "/job/{job}/owner"])
def test_a_page_with_all_it_asks_for_stays_light(one_for_all: tuple[TestClient, Shop, str], page: str) -> None:
    client, _, job = one_for_all
    weight, text = sent(client, page.format(job=job))
    asked_for = ASKED_FOR.findall(text)
    assert len(asked_for) >= 4, "the style sheets and the script are not found"
    weight += sum(sent(client, path)[0] for path in asked_for)
    assert weight <= MOST_BYTES


def test_pages_and_style_sheets_go_compressed_to_whoever_can_read_that(
    one_for_all: tuple[TestClient, Shop, str]
) -> None:
    client, _, job = one_for_all
    for path in (f"/job/{job}", "/static/sheet.css", "/static/bench.js"):
        packed = client.get(path, headers={"accept-encoding": "gzip"})
        plain = client.get(path, headers={"accept-encoding": "identity"})
        assert packed.headers["content-encoding"] == "gzip"
        assert "content-encoding" not in plain.headers
        assert sent(client, path)[0] < 0.5 * len(plain.content)


def test_no_page_asks_for_a_letter_shape_or_anything_from_elsewhere(
    one_for_all: tuple[TestClient, Shop, str]
) -> None:
    client, _, job = one_for_all
    text = client.get(f"/job/{job}").text
    sheets = "".join(client.get(path).text for path in ASKED_FOR.findall(text))
    assert "@font-face" not in sheets
    assert "url(http" not in sheets
    assert not re.findall(r'(?:src|href)="(?:https?:)?//', text)
