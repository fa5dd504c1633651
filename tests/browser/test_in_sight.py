"""Whoever walks up sees the next step, what can hurt and the answers at once: nothing of it must be scrolled for."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage
from tests.browser.walking import move, take_in

pytestmark = pytest.mark.browser

SIZES = [(390, 844), (820, 1180), (1280, 800)]
MACHINES = {
    "won't start": "Walk mower, overhead valve", "bogs when cutting": "Chain saw", "surges": "Walk mower, side valve",
    "rope will not pull": "Generator, capacitor, 50 Hz", "dies when warm": "String trimmer, two-stroke",
}
# What of the step is not whole in the window, or lies under the answers or the bands that stay.
HIDDEN = """() => {
  const step = document.querySelector('.area-step');
  const dock = step.querySelector('.dock').getBoundingClientRect();
  const bands = document.querySelector('.bands').getBoundingClientRect();
  const found = [];
  const wanted = 'h1, .cautions li:first-child, .dock .outcomes > *, .dock .keep, .dock .quiets > *';
  for (const e of step.querySelectorAll(wanted)) {
    const box = e.getBoundingClientRect();
    const floor = e.closest('.dock') ? innerHeight : Math.min(innerHeight, dock.top);
    if (box.top >= bands.bottom - 1 && box.bottom <= floor + 1) continue;
    found.push(`${e.textContent.trim().slice(0, 50)}: ${Math.round(box.top)} to ${Math.round(box.bottom)}`);
  }
  return found;
}"""


@pytest.fixture(scope="module")
def jobs() -> dict[str, str]:
    """Jobs of several kinds, taken in by the first test."""
    return {}


def opened(page: Page, jobs: dict[str, str]) -> dict[str, str]:
    """A job for each kind of machine, the first with an engine that cannot be stopped."""
    if not jobs:
        for complaint, machine in MACHINES.items():
            jobs[machine] = take_in(page, complaint, machine)
        move(page, jobs["Walk mower, overhead valve"], "Stop lead", "off")
    return jobs


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_next_step_its_caution_and_its_answers_are_seen_without_scrolling(
    new_page: NewPage, jobs: dict[str, str], width: int, height: int
) -> None:
    page = new_page(width, height)
    hidden = {}
    for machine, job in opened(page, jobs).items():
        page.goto(f"/job/{job}")
        expect(page.locator(".area-step .dock")).to_be_visible()
        found = page.evaluate(HIDDEN)
        if found:
            hidden[machine] = found
    assert hidden == {}
