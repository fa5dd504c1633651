"""The printed handbook: every entry has a page, every link leads somewhere, cautions come before any step."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.pages import render
from firstpull.handbook.pages.links import file_of
from firstpull.handbook.read import load

VOID = {"meta", "link", "input"}


class Page(HTMLParser):
    """What a browser would find: the elements in order, and whether every one that opens is closed."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(text)
        self.close()
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "script":
            self.text += data + "\n"

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.seen if name == tag]


@pytest.fixture(scope="module")
def shipped() -> Book:
    return load()


@pytest.fixture(scope="module")
def files(shipped: Book) -> dict[str, str]:
    return render(shipped)


def test_every_entry_has_a_page_and_stands_in_the_index(shipped: Book, files: dict[str, str]) -> None:
    wanted = {file_of(kind, name) for kind in SHELVES for name in shipped.shelf(kind)}
    assert set(files) == wanted | {"index.html", "handbook.css"}
    assert {a["href"] for a in Page(files["index.html"]).all("a")} >= wanted


def test_every_link_leads_to_a_page_and_nothing_is_asked_of_the_network(files: dict[str, str]) -> None:
    for name, text in files.items():
        if not name.endswith(".html"):
            assert "url(" not in text
            assert "@import" not in text
            continue
        page = Page(text)
        places = {attributes["id"] for _, attributes in page.seen if "id" in attributes}
        for tag, attributes in page.seen:
            for key in ("href", "src", "action", "srcset", "data", "poster"):
                target = attributes.get(key)
                assert target is None or target in files or target.removeprefix("#") in places, (
                    f"{name}: {tag} {target}"
                )
        assert "fetch(" not in text
        assert "://" not in re.sub(r">[^<]*<", "><", text)


def test_cautions_and_hazards_are_told_before_any_step(shipped: Book, files: dict[str, str]) -> None:
    told = 0
    for kind in ("check", "repair"):
        for name, entry in shipped.shelf(kind).items():
            text = files[file_of(kind, name)]
            how = text.find('<ol class="how">')
            for caution in getattr(entry, "cautions", ()):
                assert 0 < text.index(f'href="caution-{caution}.html"') < how, name
                told += 1
            if getattr(entry, "hazard", "none") != "none":
                assert 0 < text.index("Danger: ") < how, name
    assert told > 100


def test_a_page_can_be_read_by_everybody(files: dict[str, str]) -> None:
    for name, text in files.items():
        if not name.endswith(".html"):
            continue
        page = Page(text)
        assert text.startswith("<!DOCTYPE html>\n")
        assert page.all("html") == [{"lang": "en"}]
        assert len(page.all("h1")) == len(page.all("main")) == len(page.all("title")) == 1
        assert page.all("a")[0]["href"] == "#page"
        assert all("scope" in head for head in page.all("th"))
        assert len(page.all("caption")) == len(page.all("table"))
        labels = {label["for"] for label in page.all("label")}
        assert all(box["id"] in labels for box in page.all("input"))
        ids = [attributes["id"] for _, attributes in page.seen if "id" in attributes]
        assert len(ids) == len(set(ids))


def test_numbers_stand_with_their_sources(shipped: Book, files: dict[str, str]) -> None:
    for kind in SHELVES:
        for name, entry in shipped.shelf(kind).items():
            text = Page(files[file_of(kind, name)]).text
            assert f"Source: {getattr(entry, 'source', '')}. " in text
    for machine in shipped.machines.values():
        text = Page(files[file_of("machine", machine.id)]).text
        assert all(spec.source in text and spec.standing in text for spec in machine.specs)


def test_no_page_but_that_of_a_repair_brings_a_fault_and_a_check_together(files: dict[str, str]) -> None:
    for name, text in files.items():
        links = {str(a["href"]).partition("-")[0] for a in Page(text).all("a")} if name.endswith(".html") else set()
        if name.startswith(("fault-", "check-")):
            other = "check" if name.startswith("fault-") else "fault"
            assert other not in links, name


def test_the_list_stands_without_scripts_and_the_search_without_the_network(shelf: Any) -> None:
    index = Page(render(load(shelf.write()))["index.html"])
    (box,) = [attributes for tag, attributes in index.seen if attributes.get("class") == "search"]
    assert "hidden" in box
    assert not any("hidden" in item for item in index.all("li"))
    (spark,) = [li for li in index.all("li") if "spark dark" in str(li.get("data-words"))]
    assert "no spark" in str(spark["data-words"])
    assert index.all("script") == [{}]


def test_a_step_begins_with_the_cautions_of_what_must_be_moved_for_it(shelf: Any) -> None:
    more = '\n[[caution]]\nid = "hot"\ntext = "Let it cool."\nsource = "judgement"\n'
    swaps = [
        ("minutes = 10", 'minutes = 10\nneeds = { off = ["stop-lead"] }'),
        ("by_class = {", 'cautions = ["hot"]\nby_class = {'),
    ]
    text = render(load(shelf.write(*swaps, add=more)))["repair-reroute.html"]
    assert 0 < text.index("Let it cool.") < text.index("Sleeve it")


def test_a_page_tells_who_names_its_entry(shelf: Any) -> None:
    files = render(load(shelf.write()))
    assert 'href="check-spark.html"' in files["access-stop-lead.html"]
    assert 'href="check-spark.html"' in files["caution-shock.html"]
    assert 'href="repair-reroute.html"' in files["fault-lead-chafed.html"]
    assert 'href="fault-lead-chafed.html"' in files["machine-mower.html"]
    assert "2 times as likely" in files["told-other-work.html"]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.text(alphabet="<>&\"'aé/ =!-", min_size=1, max_size=30).filter(lambda text: text.strip()))
def test_words_of_an_own_chapter_are_words_and_never_markup(shelf: Any, words: str) -> None:
    plain = render(load(shelf.write()))
    quoted = '"""x' + words.replace('"', '\\"') + '"""'
    swaps = [
        ('name = "Spark at a tester"', f"name = {quoted}"),
        ('["Follow the lead."]', f"[{quoted}]"),
        ('"A caution"', quoted),
    ][:2]
    files = render(load(shelf.write(*swaps, ('"The lead can shock: hold the tester by its body."', quoted))))
    assert set(files) == set(plain)
    for name, text in files.items():
        if name.endswith(".html"):
            assert [tag for tag, _ in Page(text).seen] == [tag for tag, _ in Page(plain[name]).seen], name
    shown = " ".join(Page(files["check-spark.html"]).text.split())
    assert " ".join(("x" + words).split()) in shown


def test_the_pages_can_be_written_as_they_are_named(shelf: Any, tmp_path: Path) -> None:
    for name, text in render(load(shelf.write())).items():
        assert re.fullmatch(r"[a-z0-9-]+\.(html|css)", name)
        (tmp_path / name).write_text(text, encoding="utf-8")
