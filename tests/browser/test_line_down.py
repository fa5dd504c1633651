"""The line goes down in the middle of the work: what was tapped waits on the phone and is sent once."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import pytest
from playwright.sync_api import expect

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
    bench.start()
    expect(page.get_by_text("Sent once.")).to_be_visible()
    assert readings(bench.folder, job) == ["dark"]
    assert page.evaluate("localStorage.getItem('firstpull-outbox')") == "[]"


def test_an_answer_is_acknowledged_before_the_next_step_is_reckoned(new_page: NewPage) -> None:
    page = new_page()
    job = take_in(page, "will not start", "Walk mower, overhead valve")
    page.goto(f"/job/{job}/check/spark-at-tester")
    page.get_by_role("button", name="Dark", exact=True).click()
    expect(page.get_by_role("button", name="Undo: Spark at the tester dark")).to_be_visible(timeout=4000)
