"""Sheets from the browser: listed, sent as PDF, refused in one sentence when the record does not hold them yet."""

from __future__ import annotations

import time
from pathlib import Path
from typing import cast

from fastapi import FastAPI
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.bench.wiring import open_shop
from firstpull.web.app import make_app

PATIENCE = 120.0


def _bench(folder: Path) -> tuple[TestClient, str]:
    shop = open_shop(folder)
    said = Counter("Ada Fenwright", "0555 0101", "won't start", "80", "walk-mower-ohv")
    job = take_in(shop, said, act_id="in", by="Wren")
    return TestClient(make_app(shop)), job


def test_every_sheet_is_listed_on_both_papers(tmp_path: Path) -> None:
    client, job = _bench(tmp_path)
    text = client.get(f"/job/{job}/paper").text
    assert text.count("?paper=a4") == text.count("?paper=letter") == 10


def test_a_tag_comes_as_a_pdf_that_opens_in_the_page(tmp_path: Path) -> None:
    client, job = _bench(tmp_path)
    sent = client.get(f"/job/{job}/paper/tag?paper=letter")
    assert sent.status_code == 200
    assert sent.headers["content-type"] == "application/pdf"
    assert sent.content.startswith(b"%PDF-")


def test_what_cannot_be_printed_is_refused_in_words(tmp_path: Path) -> None:
    client, job = _bench(tmp_path)
    for path in (f"/job/{job}/paper/poem", f"/job/{job}/paper/tag?paper=birch-bark", "/job/999/paper"):
        refused = client.get(path)
        assert refused.status_code == 422
        assert "Traceback" not in refused.text


def test_a_chart_has_a_page_of_its_own_while_it_is_worked_out(tmp_path: Path) -> None:
    client, job = _bench(tmp_path)
    shop: Shop = cast(FastAPI, client.app).state.shop
    shop.pool = pool = Pool(shop.room.book, size=1)
    sent = client.get(f"/job/{job}/paper/chart", follow_redirects=False)
    assert (sent.status_code, sent.headers["location"]) == (303, f"/job/{job}/chart")
    waits = client.get(f"/job/{job}/chart")
    assert waits.status_code == 202
    for word in ("Working out the bench chart", "Look again", 'http-equiv="refresh"', "data-wait"):
        assert word in waits.text
    pool.start()
    try:
        ends = time.monotonic() + PATIENCE
        while client.get(f"/job/{job}/chart").status_code == 202:
            assert time.monotonic() < ends
            time.sleep(0.05)
        ready = client.get(f"/job/{job}/chart").text
        assert f'href="/job/{job}/paper/chart?paper=a4"' in ready
        assert "data-wait" not in ready
        assert client.get(f"/job/{job}/paper/chart?paper=letter").content.startswith(b"%PDF-")
    finally:
        pool.close()


def test_without_workers_a_chart_comes_at_once_and_its_page_says_so(tmp_path: Path) -> None:
    client, job = _bench(tmp_path)
    assert client.get(f"/job/{job}/paper/chart").content.startswith(b"%PDF-")
    assert "The bench chart is ready" in client.get(f"/job/{job}/chart").text
    assert client.get("/job/999/chart").status_code == 422
