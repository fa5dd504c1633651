"""A sheet that says only what is settled: it waits in the page, with scripts and without, and then fills itself."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import psutil
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import Bench, NewPage
from tests.browser.test_accessible import MEASURE, SMALLEST_TARGET, SMALLEST_TEXT
from tests.browser.walking import take_in

pytestmark = pytest.mark.browser

LONG_MS = 60_000


@contextmanager
def held_up(bench: Bench) -> Iterator[None]:
    """Nobody reckons within: the workers are stopped in the middle of what they do, and go on afterwards."""
    assert bench.process is not None
    workers = psutil.Process(bench.process.pid).children(recursive=True)
    for worker in workers:
        worker.suspend()
    try:
        yield
    finally:
        for worker in workers:
            worker.resume()


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_the_sheet_for_the_owner_waits_in_the_page_and_fills_itself(
    new_page: NewPage, bench: Bench, scripts: bool
) -> None:
    page = new_page(scripts=scripts)
    with held_up(bench):
        job = take_in(page, "will not start", "Tiller")
        page.goto("/")  # the sheet of the job looks again by itself and would come in between
        page.goto(f"/job/{job}/owner")
        expect(page.get_by_role("heading", level=1)).to_have_text("Still reckoning")
        expect(page.get_by_role("link", name="Look again")).to_be_visible()
        if scripts:
            seen = Axe().run(page)
            assert seen.violations_count == 0, seen.generate_report()
            assert page.evaluate(MEASURE, [SMALLEST_TARGET, SMALLEST_TEXT]) == []
    expect(page.get_by_text("We do not know yet.")).to_be_visible(timeout=LONG_MS)


def test_a_sheet_for_the_printer_is_not_printed_before_it_is_settled(new_page: NewPage, bench: Bench) -> None:
    page = new_page()
    with held_up(bench):
        job = take_in(page, "will not start", "Tiller")
        waits = page.request.get(f"/job/{job}/paper/work-sheet?paper=a4")
        assert waits.status == 202
        assert "Still reckoning" in waits.text()
    page.goto(f"/job/{job}/owner")
    expect(page.get_by_text("We do not know yet.")).to_be_visible(timeout=LONG_MS)
    assert page.request.get(f"/job/{job}/paper/work-sheet?paper=a4").body().startswith(b"%PDF-")
