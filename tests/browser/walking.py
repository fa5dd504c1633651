"""What a hand does on the pages, so that tests read like a morning at the bench."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

# The answers that prove a machine sound, as the handbook words them.
GOOD = re.compile("^(Starts|Stops|Gone|Dry card|Stands)$")


def take_in(page: Page, complaint: str, machine: str, name: str = "Ada Fenwright") -> str:
    """Take a machine in at the counter and return its job."""
    page.goto("/take-in")
    page.get_by_label("In their own words").fill(complaint)
    page.get_by_label("Which machine").select_option(label=machine)
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label("Telephone, or where to reach them").fill("0555 0101")
    page.get_by_label("Spending limit").fill("120")
    page.get_by_role("button", name="Hang the tag").click()
    expect(page).to_have_url(re.compile(r"/job/\d+$"))
    return page.url.rsplit("/", 1)[1]


def read(page: Page, job: str, check: str, answer: str) -> None:
    """Enter a reading by the sheet of its own."""
    page.goto(f"/job/{job}/check/{check}")
    page.get_by_role("button", name=answer, exact=True).first.click()
    expect(page).to_have_url(re.compile(rf"/job/{job}$"))


def move(page: Page, job: str, item: str, state: str) -> None:
    """Take something off, or put it on."""
    page.goto(f"/job/{job}/did?q={item}")
    page.get_by_role("button", name=re.compile(f"^{item}.*: now {state}$")).click()
    expect(page).to_have_url(re.compile(rf"/job/{job}$"))


def mend(page: Page, job: str, repair: str) -> None:
    """Enter a repair."""
    page.goto(f"/job/{job}/repair/{repair}")
    page.get_by_role("button", name=re.compile("^Done:")).click()
    expect(page).to_have_url(re.compile(rf"/job/{job}$"))


def answered(page: Page, button: Locator) -> None:
    """Tap, and wait for the page that follows: every page brings acts of its own."""
    acts = page.locator("[name=act]")
    before = acts.first.get_attribute("value")
    button.click()
    expect(acts.first).not_to_have_value(str(before))


def release(page: Page, job: str) -> None:
    """Write the values down, prove everything with its good answer, put all back, and release as working."""
    page.goto(f"/job/{job}/release")
    for _ in range(page.locator("form.value-form").count()):
        form = page.locator("form.value-form").filter(has_not_text="written").first
        form.locator("input[name=value]").fill("0.3")
        answered(page, form.get_by_role("button"))
    prove(page)
    put_back(page)
    page.get_by_role("button", name="Release as working").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Released as working")


def prove(page: Page) -> None:
    """Answer every open proof with its good answer until none is open."""
    for _ in range(30):
        open_proofs = page.locator(".proofs li:not(.passed)")
        if not open_proofs.count():
            return
        first = open_proofs.first
        if first.locator("input[name=value]").count():
            first.locator("input[name=value]").fill("0.2")
            answered(page, first.get_by_role("button", name="Keep it"))
        else:
            answered(page, first.get_by_role("button", name=GOOD).first)
    raise AssertionError("proofs stay open: " + page.locator(".proofs").inner_text())


def put_back(page: Page) -> None:
    """Put everything back on, and take everything of ours off it."""
    for _ in range(20):
        buttons = page.get_by_role("button", name=re.compile("is back on$|is off it$"))
        if not buttons.count():
            return
        answered(page, buttons.first)
    raise AssertionError("things stay away: " + page.locator("main").inner_text())
