"""Sheets from the browser: listed, sent as PDF, refused in one sentence when the record does not hold them yet."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.wiring import open_shop
from firstpull.web.app import make_app


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
