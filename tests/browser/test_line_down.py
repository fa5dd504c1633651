"""The line goes down in the middle of the work: what was tapped waits on the phone and is sent once."""

from __future__ import annotations

import io
import json
import sqlite3
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.bench.test_picture_facts import made
from tests.browser.conftest import Bench, NewPage
from tests.browser.walking import take_in

pytestmark = pytest.mark.browser


def readings(folder: Path, job: str) -> list[str]:
    """What the record on disk says was read on a job."""
    with sqlite3.connect(f"file:{folder / 'record.sqlite'}?mode=ro", uri=True) as record:
        tables = [t for (t,) in record.execute("select name from sqlite_master where type = 'table'") if t == "events"]
        assert tables == ["events"]
        rows = record.execute("select body from events where job = ? and kind = 'reading'", (job,)).fetchall()
    return [str(json.loads(body)["reading"]) for (body,) in rows]


def top(page: Page, name: str) -> float:
    """Where the first of these begins in the window."""
    return float(page.evaluate("(name) => document.querySelector(name).getBoundingClientRect().top", name))


def bottom(page: Page, name: str) -> float:
    """Where the first of these ends in the window."""
    return float(page.evaluate("(name) => document.querySelector(name).getBoundingClientRect().bottom", name))


def test_an_answer_given_while_the_server_is_gone_is_sent_once_when_it_is_back(
    new_page: NewPage, bench: Bench
) -> None:
    page = new_page()
    job = take_in(page, "no spark, I think", "Walk mower, overhead valve")
    page.goto(f"/job/{job}/check/spark-at-tester")
    bench.stop()
    page.get_by_role("button", name="Dark", exact=True).click()
    expect(page.get_by_text("Kept on this phone. 1 waits for the line.")).to_be_visible()
    expect(page.get_by_text("Off the machine")).to_be_visible()
    assert top(page, ".strip") >= bottom(page, "#outbox")
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert top(page, ".bands") >= bottom(page, "#outbox") - 1
    bench.start()
    expect(page.get_by_text("Sent once.")).to_be_visible()
    assert readings(bench.folder, job) == ["dark"]
    assert page.evaluate("localStorage.getItem('firstpull-outbox')") == "[]"


def photos(folder: Path, job: str) -> list[str]:
    """The acts on disk that brought a picture of a job."""
    with sqlite3.connect(f"file:{folder / 'record.sqlite'}?mode=ro", uri=True) as record:
        rows = record.execute("select act_id from events where job = ? and kind = 'photo'", (job,)).fetchall()
    return [str(act) for (act,) in rows]


WAITING = """async () => new Promise((done) => {
  const opened = indexedDB.open('firstpull-pictures', 1);
  opened.onsuccess = () => {
    const asked = opened.result.transaction('pictures').objectStore('pictures').count();
    asked.onsuccess = () => { opened.result.close(); done(asked.result); };
  };
})"""


def test_pictures_taken_while_the_server_is_gone_wait_on_the_phone_and_are_sent_once(
    new_page: NewPage, bench: Bench
) -> None:
    page = new_page()
    job = take_in(page, "smells of fuel", "not sure yet")
    page.goto(f"/job/{job}/pictures")
    bench.stop()
    out = io.BytesIO()
    Image.effect_noise((2400, 1800), 60).convert("RGB").save(out, "JPEG", quality=95)
    field = page.get_by_label("Take a picture")
    page.get_by_label("What it shows").fill("the split hose")
    field.set_input_files({"name": "large.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()})
    expect(page.get_by_text("Kept on this phone. 1 picture waits for the line.")).to_be_visible()
    field.set_input_files({"name": "small.jpg", "mimeType": "image/jpeg", "buffer": made("JPEG")})
    expect(page.get_by_text("Kept on this phone. 2 pictures wait for the line.")).to_be_visible()
    assert page.evaluate(WAITING) == 2
    bench.start()
    expect(page.get_by_text("Sent once.")).to_be_visible()
    expect(page.locator(".pictures img")).to_have_count(2)
    assert len(photos(bench.folder, job)) == len(set(photos(bench.folder, job))) == 2
    assert page.evaluate(WAITING) == 0
    expect(page.get_by_text("the split hose")).to_be_visible()
    drawn = page.locator(".pictures img").last
    drawn.scroll_into_view_if_needed()
    page.wait_for_function("() => [...document.querySelectorAll('.pictures img')].some((i) => i.naturalWidth === 1600)")
    address = str(drawn.get_attribute("src"))
    assert len(page.request.get(address).body()) <= 700_000


def test_an_answer_is_acknowledged_before_the_next_step_is_reckoned(new_page: NewPage) -> None:
    page = new_page()
    job = take_in(page, "will not start", "Walk mower, overhead valve")
    page.goto(f"/job/{job}/check/spark-at-tester")
    page.get_by_role("button", name="Dark", exact=True).click()
    expect(page.get_by_role("button", name="Undo: Spark at the tester dark")).to_be_visible(timeout=4000)
