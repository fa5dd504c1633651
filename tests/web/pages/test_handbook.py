"""The handbook in the browser: every page opens, every link leads somewhere, and nothing is held that is not."""

from __future__ import annotations

import re

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop


def test_the_index_finds_by_word_and_says_when_nothing_does(client: TestClient) -> None:
    found = client.get("/handbook/", params={"q": "spark at tester"}).text
    assert 'href="/handbook/check-spark-at-tester.html"' in found
    assert "Nothing by that word" in client.get("/handbook/", params={"q": "zeppelin"}).text


def test_every_page_opens_and_every_link_on_it_leads_to_a_page(client: TestClient, shop: Shop) -> None:
    files = set(re.findall(r'href="/handbook/([a-z]+-[^"]+)"', client.get("/handbook/").text))
    assert {f"fault-{name}.html" for name in shop.room.book.faults} <= files
    assert {f"caution-{name}.html" for name in shop.room.book.cautions} <= files
    for file in sorted(files)[::7]:
        page = client.get(f"/handbook/{file}")
        assert page.status_code == 200, file
        assert set(re.findall(r'href="([a-z]+-[^"/]+\.html)"', page.text)) <= files, file


def test_cautions_stand_before_the_how_to(client: TestClient) -> None:
    text = client.get("/handbook/check-spark-at-tester.html").text
    assert text.index('class="cautions"') < text.index('class="how"')


def test_an_entry_that_is_not_held_is_refused_with_the_nearest(client: TestClient) -> None:
    for file in ("check-spark-at-testr.html", "nothing.html", "check-spark-at-tester", "..%2Fapp.py"):
        answer = client.get(f"/handbook/{file}")
        assert answer.status_code in (404, 422), file
    assert "spark-at-tester" in client.get("/handbook/check-spark-at-testr.html").text


def test_every_class_is_shown_with_its_figures_and_where_none_is_held_that_is_said(
    client: TestClient, shop: Shop
) -> None:
    text = client.get("/handbook/machines").text
    machines = shop.room.book.machines.values()
    assert all(machine.name in text for machine in machines)
    held = sum(spec.low is not None or spec.high is not None for machine in machines for spec in machine.specs)
    figures = {spec.id for machine in machines for spec in machine.specs}
    assert text.count("<td>no figure held</td>") == len(figures) * len(shop.room.book.machines) - held
