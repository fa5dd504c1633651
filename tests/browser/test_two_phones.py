"""Two phones on one job: the second one's stale page is told what happened, and nothing is lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Bench, NewPage
from tests.browser.test_line_down import readings
from tests.browser.walking import move, read, take_in

pytestmark = pytest.mark.browser


def named(page: Page, who: str) -> Page:
    """A phone that says whose hand holds it."""
    page.goto("/settings")
    page.get_by_label("Who is at the bench").fill(who)
    page.get_by_role("button", name="Keep it").first.click()
    return page


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_what_harms_nobody_is_kept_from_both_phones_however_old_the_page(new_page: NewPage, scripts: bool) -> None:
    one, two = named(new_page(scripts=scripts), "Ines"), named(new_page(scripts=scripts), "Wren")
    job = take_in(one, "no spark, I think", "not sure yet")
    two.goto(f"/job/{job}/parts")
    for page, part in ((one, "Coil"), (two, "Plug")):
        if page is one:
            page.goto(f"/job/{job}/parts")
        page.get_by_label("What it is called").fill(part)
        page.get_by_role("button", name="Wanted", exact=True).click()
        expect(page.get_by_text("Waiting for")).to_contain_text(part)
    one.goto(f"/job/{job}/history")
    expect(one.locator(".acts")).to_contain_text("Part: Coil wanted")
    expect(one.locator(".acts")).to_contain_text("Part: Plug wanted")
    expect(one.locator(".acts")).to_contain_text("Wren")


def test_a_hand_over_waits_for_a_look_when_the_other_phone_has_changed_the_machine(
    new_page: NewPage, bench: Bench
) -> None:
    one, two = named(new_page(), "Ines"), named(new_page(), "Wren")
    job = take_in(one, "no spark, I think", "Walk mower, overhead valve")
    two.goto(f"/job/{job}/release")
    two.get_by_label("Or hand it back unmended, because").fill("the owner said no")
    move(one, job, "Stop lead", "off")
    two.get_by_role("button", name="Return not repaired").click()
    expect(two.locator("#errors")).to_contain_text("Ines has changed something meanwhile")
    expect(two.get_by_text("This engine cannot be stopped")).to_be_visible()
    read(two, job, "spark-at-tester", "Dark")
    assert readings(bench.folder, job) == ["dark"]
