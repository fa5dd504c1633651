"""The bench chart is worked out elsewhere: its page says so and fills itself, with scripts and without."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import NewPage
from tests.browser.test_accessible import MEASURE, SMALLEST_TARGET, SMALLEST_TEXT
from tests.browser.walking import take_in

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_chart_that_is_asked_for_shows_itself_when_it_is_there(new_page: NewPage, scripts: bool) -> None:
    page = new_page(scripts=scripts)
    job = take_in(page, "will not start", "Walk mower, overhead valve")
    page.goto(f"/job/{job}/paper")
    page.get_by_role("link", name="A4 Bench chart").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Working out the bench chart")
    expect(page.get_by_role("link", name="Look again")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_have_text("The bench chart is ready")
    if scripts:
        seen = Axe().run(page)
        assert seen.violations_count == 0, seen.generate_report()
        assert page.evaluate(MEASURE, [SMALLEST_TARGET, SMALLEST_TEXT]) == []
    address = page.get_by_role("link", name="Open it on A4").get_attribute("href")
    assert page.request.get(str(address)).body().startswith(b"%PDF-")
