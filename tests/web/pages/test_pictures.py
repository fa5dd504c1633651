"""Pictures taken with the phone."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from tests.bench.test_picture_facts import SECRET, made


@pytest.fixture
def plain(shop: Shop) -> str:
    """A job whose kind of machine nobody said yet, so that nothing is reckoned."""
    return take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in-1", by="Wren")


def take(client: TestClient, job: str, data: bytes, name: str = "a.jpg", **fields: str) -> int:
    said = {"act": "p", "based_on": "1", **fields}
    return int(client.post(f"/job/{job}/pictures", data=said, files={"picture": (name, data, "text/html")}).status_code)


def test_a_picture_is_taken_shown_and_taken_away(client: TestClient, plain: str) -> None:
    assert take(client, plain, made("JPEG"), caption="<b>the torn hose</b>") == 303
    text = client.get(f"/job/{plain}/pictures").text
    assert "&lt;b&gt;the torn hose" in text
    (address,) = set(re.findall(r'src="(/job/[^"]+)"', text))
    sent = client.get(address)
    assert sent.headers["content-type"] == "image/jpeg"
    assert sent.headers["x-content-type-options"] == "nosniff"
    assert sent.headers["content-security-policy"] == "default-src 'none'; sandbox"
    assert SECRET not in sent.content
    away = {"act": "q", "based_on": "2", "undone": "p"}
    assert client.post(f"/job/{plain}/pictures/away", data=away).status_code == 303
    assert client.get(address).status_code == 422
    assert "No picture yet" in client.get(f"/job/{plain}/pictures").text


def test_what_is_no_picture_is_refused_in_one_message_and_kept_nowhere(
    client: TestClient, shop: Shop, plain: str
) -> None:
    for data in (b"", b"<script>alert(1)</script>", b"%PDF-1.7", made("PNG")[:50]):
        file = {"picture": ("a.jpg", data, "image/jpeg")}
        answer = client.post(f"/job/{plain}/pictures", data={"act": "p"}, files=file)
        assert answer.status_code == 422
        assert answer.text.count('role="alert"') == 1
    assert client.post(f"/job/{plain}/pictures", data={"act": "p"}).status_code == 422
    assert take(client, plain, b"\xff\xd8\xff" + b"\x00" * 16_000_000) == 413
    assert shop.record(plain).photos == ()


def test_only_a_picture_may_be_that_large(client: TestClient, plain: str) -> None:
    for path in (f"/job/{plain}/note", f"/job/{plain}/parts", f"/job/{plain}/pictures/away"):
        assert client.post(path, data={"act": "a", "text": "x" * 70_000}).status_code == 413, path


def test_another_act_is_not_taken_away_as_a_picture(client: TestClient, shop: Shop, plain: str) -> None:
    client.post(f"/job/{plain}/note", data={"act": "n", "based_on": "1", "text": "mind the sump"})
    away = {"act": "q", "based_on": "2", "undone": "n"}
    assert client.post(f"/job/{plain}/pictures/away", data=away).status_code == 422
    assert len(shop.record(plain).notes) == 1


def test_a_picture_is_put_on_the_owners_sheet_and_left_off_again(client: TestClient, plain: str) -> None:
    take(client, plain, made("JPEG"))
    page = f"/job/{plain}/pictures"
    assert "On the hand-over sheet" not in client.get(page).text
    for act, shown in (("o1", "1"), ("o2", "")):
        said = {"act": act, "based_on": "2", "photo": "p", "shown": shown}
        assert client.post(f"{page}/owner", data=said).status_code == 303
        assert ("On the hand-over sheet" in client.get(page).text) is bool(shown)
    history = client.get(f"/job/{plain}/history").text
    told = ("Picture: no words with it", "picture goes on the hand-over sheet", "picture comes off the hand-over sheet")
    assert [words for words in told if words not in history] == []


def test_a_picture_that_is_not_fit_for_paper_is_refused_on_the_page(client: TestClient, plain: str) -> None:
    take(client, plain, made("PNG"))
    said = {"act": "o", "based_on": "2", "photo": "p", "shown": "1"}
    answer = client.post(f"/job/{plain}/pictures/owner", data=said)
    assert answer.status_code == 422
    assert "not fit for paper" in answer.text


def test_a_script_is_told_where_to_go_on_when_a_picture_is_kept(client: TestClient, plain: str) -> None:
    file = {"picture": ("a.jpg", made("JPEG"), "image/jpeg")}
    answer = client.post(f"/job/{plain}/pictures", data={"act": "p"}, files=file, headers={"X-Part": "1"})
    assert (answer.status_code, answer.headers["x-next"]) == (204, f"/job/{plain}/pictures")


def test_a_picture_that_is_too_large_is_told_its_limit_and_what_to_do(client: TestClient, job: str) -> None:
    answer = client.post(
        f"/job/{job}/pictures", data={"act": "p"}, files={"picture": ("p.jpg", b"\xff\xd8\xff" + b"\x00" * 16_000_000)}
    )
    assert answer.status_code == 413
    for words in ("15 MB", "nothing was kept", "smaller pictures"):
        assert words in answer.text
    assert "15 MB at most" in client.get(f"/job/{job}/pictures").text
