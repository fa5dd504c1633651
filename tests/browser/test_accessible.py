"""Every page for every eye and hand: by axe at three widths, light and dark; by keyboard; on a narrow phone."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage
from tests.browser.walking import move, take_in

pytestmark = pytest.mark.browser

PAGES = ["/", "/take-in", "/settings", "/job/{}", "/job/{}/did", "/job/{}/check/spark-at-tester",
         "/job/{}/check/coil-gap", "/job/{}/repair/renew-coil", "/job/{}/strip/coil-gap", "/job/{}/owner",
         "/job/{}/release", "/job/none", "/job/{}/parts", "/parts", "/rounds", "/job/{}/pictures", "/job/{}/bill",
         "/job/{}/history", "/job/{}/paper", "/handbook/?q=spark", "/handbook/check-spark-at-tester.html",
         "/handbook/fault-coil-dead.html", "/handbook/machines", "/devices", "/asked"]
SMALLEST_TARGET = 48
SMALLEST_TEXT = 14
MEASURE = """([target, text]) => {
  const found = [];
  const seen = (e) => e.getClientRects().length && getComputedStyle(e).visibility !== 'hidden';
  for (const e of document.querySelectorAll('a, button, select, input:not([type=hidden]), summary')) {
    if (!seen(e) || e.closest('.skip, .outbox')) continue;
    if (e.matches('a:is(.handbook :is(p, dd, td, th, .how) a, .cautions a)')) continue;  // a word within a sentence
    const ticked = ['checkbox', 'radio'].includes(e.type) && e.closest('label');
    const box = (ticked || e).getBoundingClientRect();
    if (box.height >= target - 0.5 && box.width >= target - 0.5) continue;
    found.push(`${e.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`);
  }
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || !seen(e)) continue;
    const svg = e.closest('svg');
    const scale = svg && svg.viewBox.baseVal.width ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const size = parseFloat(getComputedStyle(e).fontSize) * scale;
    if (size < text - 0.05) found.push(`${walk.currentNode.textContent.trim().slice(0, 40)} ${size} px`);
  }
  if (document.documentElement.scrollWidth > innerWidth) found.push(`sideways ${document.documentElement.scrollWidth}`);
  return found;
}"""


@pytest.fixture(scope="module")
def jobs() -> dict[str, str]:
    """The one job that these tests look at, taken in by the first."""
    return {}


def opened(page: Page, jobs: dict[str, str]) -> str:
    """The job that these tests look at: a mower whose engine cannot be stopped."""
    if "one" not in jobs:
        jobs["one"] = take_in(page, "no spark, I think", "Walk mower, overhead valve")
        move(page, jobs["one"], "Stop lead", "off")
        expect(page.get_by_text("This engine cannot be stopped")).to_be_visible()
    return jobs["one"]


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [390, 820, 1280])
def test_axe_finds_nothing_on_any_page(new_page: NewPage, jobs: dict[str, str], width: int, dark: bool) -> None:
    page = new_page(width, 844, dark=dark)
    job = opened(page, jobs)
    found = {}
    for path in PAGES:
        page.goto(path.format(job))
        page.evaluate("document.querySelectorAll('details:not([data-load])').forEach((d) => { d.open = true; })")
        results = Axe().run(page)
        if results.violations_count:
            found[path] = results.generate_report()
    assert found == {}


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_targets_are_large_text_is_not_small_and_nothing_scrolls_sideways(
    new_page: NewPage, jobs: dict[str, str], width: int
) -> None:
    page = new_page(width, 640)
    job = opened(page, jobs)
    found = {}
    for path in PAGES:
        page.goto(path.format(job))
        page.evaluate("document.querySelectorAll('details:not([data-load])').forEach((d) => { d.open = true; })")
        small = page.evaluate(MEASURE, [SMALLEST_TARGET, SMALLEST_TEXT])
        if small:
            found[path] = small
    assert found == {}


def test_the_danger_band_stays_in_sight_while_scrolling(new_page: NewPage, jobs: dict[str, str]) -> None:
    page = new_page(390, 844)
    job = opened(page, jobs)
    page.goto(f"/job/{job}")
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    expect(page.get_by_text("This engine cannot be stopped")).to_be_in_viewport()


def test_a_reading_is_entered_by_keyboard_alone(new_page: NewPage, jobs: dict[str, str]) -> None:
    page = new_page(1280, 800)
    job = opened(page, jobs)
    page.goto(f"/job/{job}/check/spark-at-tester")
    for _ in range(40):
        page.keyboard.press("Tab")
        here = page.evaluate("document.activeElement.textContent.trim()")
        outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
        if here == "Dark":
            break
    assert (here, outline) == ("Dark", "3px")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Undo: Spark at the tester dark")).to_be_visible()
