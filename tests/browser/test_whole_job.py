"""One machine from the counter back to its owner, on a phone, in a real browser."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import NewPage
from tests.browser.walking import mend, move, read, release, take_in

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_mower_with_a_dead_coil_goes_from_the_counter_back_to_its_owner(new_page: NewPage, scripts: bool) -> None:
    page = new_page(scripts=scripts)
    job = take_in(page, "no spark, I think", "Walk mower, overhead valve")
    expect(page.get_by_text("Off the machine")).to_be_visible()
    move(page, job, "Control held", "on")
    read(page, job, "spark-at-tester", "Dark")
    move(page, job, "Starter housing", "off")
    move(page, job, "Stop lead", "off")
    expect(page.get_by_text("Stop lead at the coil", exact=True).first).to_be_visible()
    read(page, job, "stop-lead-ohms-held", "Open")
    read(page, job, "spark-at-tester", "Dark")
    first = page.locator(".suspects tbody tr").first
    expect(first).to_contain_text("Coil")
    mend(page, job, "renew-coil")
    release(page, job)
    page.get_by_label("Handed to").fill("Ada Fenwright")
    page.get_by_role("button", name="Handed back").click()
    expect(page).to_have_url(re.compile(r"/$"))
    expect(page.locator(f'a[href^="/job/{job}"]')).to_have_count(0)
