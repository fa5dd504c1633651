"""The page on a phone that is four times slower, over a slow line: first paint, and what came over the line."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage
from tests.browser.walking import take_in

pytestmark = pytest.mark.browser

# A slow mobile line as browsers' own tools model it, and a processor slowed four times. From memory.
SLOW_LINE = {"offline": False, "latency": 150.0, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 0.75e6 / 8}
TIMES_SLOWER = 4
MOST_PAINT_MS = 1000.0
MOST_BYTES = 150_000
TRIES = 3

PAINTS = "() => performance.getEntriesByName('first-contentful-paint').map((e) => e.startTime)"
WEIGHT = """() => [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]
  .filter((e) => !e.name.startsWith('data:')).reduce((sum, e) => sum + e.transferSize, 0)"""


def slowed(page: Page) -> None:
    """Make the page's line and processor slow, and its memory of earlier pages empty."""
    tools = page.context.new_cdp_session(page)
    tools.send("Network.enable")
    tools.send("Network.setCacheDisabled", {"cacheDisabled": True})
    tools.send("Network.emulateNetworkConditions", SLOW_LINE)
    tools.send("Emulation.setCPUThrottlingRate", {"rate": TIMES_SLOWER})


def paint(page: Page, address: str) -> float:
    """Open a page and return when it first showed anything [ms]."""
    page.goto(address)
    page.wait_for_function(f"() => ({PAINTS})().length > 0")
    return float(page.evaluate(PAINTS)[0])


def test_the_job_shows_within_a_second_on_a_slow_phone_and_is_light(
    new_page: NewPage, record_property: Callable[[str, object], None]
) -> None:
    page = new_page()
    job = take_in(page, "will not start", "Walk mower, overhead valve")
    expect(page.locator("[data-news]")).to_have_count(0)
    slowed(page)
    paints = [paint(page, f"/job/{job}") for _ in range(TRIES)]
    page.wait_for_load_state("networkidle")
    weight = float(page.evaluate(WEIGHT))
    record_property("first paint, best of three [ms]", min(paints))
    record_property("sent over the line [bytes]", weight)
    sys.stdout.write(f"first paint {', '.join(f'{p:.0f}' for p in paints)} ms, {weight / 1000:.1f} kB over the line\n")
    # The machine that tests may be busy with other tests: the best of three is the page's own.
    assert min(paints) < MOST_PAINT_MS
    assert 10_000 < weight <= MOST_BYTES
