"""A picture from the phone: two taps with scripts, three without; and the clock by keyboard alone."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.bench.test_picture_facts import made
from tests.browser.conftest import NewPage
from tests.browser.walking import take_in

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_picture_is_taken_from_its_page_and_is_really_drawn(new_page: NewPage, scripts: bool) -> None:
    page = new_page(scripts=scripts)
    job = take_in(page, "smells of fuel", "not sure yet")
    page.goto(f"/job/{job}/pictures")
    field = page.get_by_label("Take a picture")
    assert (field.get_attribute("capture"), field.get_attribute("type")) == ("environment", "file")
    field.set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": made("JPEG")})
    if not scripts:
        page.get_by_role("button", name="Keep it").click()
    drawn = page.locator(".pictures img")
    expect(drawn).to_have_count(1)
    if scripts:
        drawn.scroll_into_view_if_needed()
        page.wait_for_function("() => document.querySelector('.pictures img').naturalWidth === 24")
    expect(page.get_by_role("link", name="Pictures, 1")).to_be_visible()


def test_what_is_no_picture_is_said_where_it_happened(new_page: NewPage) -> None:
    page = new_page()
    job = take_in(page, "smells of fuel", "not sure yet")
    page.goto(f"/job/{job}/pictures")
    said = b"<script>document.title = 'x'</script>"
    field = page.get_by_label("Take a picture")
    field.set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": said})
    expect(page.locator("#errors")).to_contain_text("This is no picture that can be kept")


def test_the_clock_is_started_and_paused_by_keyboard_alone(new_page: NewPage) -> None:
    page = new_page(1280, 800)
    job = take_in(page, "smells of fuel", "not sure yet")
    page.goto(f"/job/{job}/parts")
    for name in ("Start the clock", "Pause the clock"):
        for _ in range(12):
            page.keyboard.press("Tab")
            here = str(page.evaluate("document.activeElement.textContent")).strip()
            if here.startswith(name):
                break
        assert here.startswith(name)
        page.keyboard.press("Enter")
        after = "Pause the clock" if name.startswith("Start") else "Start the clock"
        expect(page.get_by_role("button", name=after)).to_be_visible()
        page.goto(f"/job/{job}/parts")
