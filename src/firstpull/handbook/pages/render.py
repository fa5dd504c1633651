"""Every page of a handbook: the index and one page an entry."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.pages import causes, steps, things
from firstpull.handbook.pages.frame import STYLE, Html, joined, link, page, paragraph, section, tag
from firstpull.handbook.pages.links import Links, file_of, title
from firstpull.handbook.pages.wording import KINDS

_LAYOUTS: dict[str, Callable[[Links, Any], Html]] = {
    "fault": causes.fault_page,
    "check": steps.check_page,
    "repair": steps.repair_page,
    "access": steps.access_page,
    "drive": steps.drive_page,
    "complaint": causes.complaint_page,
    "told": causes.told_page,
    "instrument": things.instrument_page,
    "caution": things.caution_page,
    "release": things.release_page,
    "machine": things.machine_page,
    "retired": things.retired_page,
}
# Shown only where scripts run; without them the whole list stands there to be read.
_SEARCH = """
const box = document.getElementById("box"), count = document.getElementById("count");
const items = [...document.querySelectorAll(".entries li")], groups = [...document.querySelectorAll(".group")];
document.querySelector(".search").hidden = false;
box.addEventListener("input", () => {
  const words = box.value.toLowerCase().split(/\\s+/).filter(Boolean);
  let shown = 0;
  for (const item of items) {
    const text = (item.textContent + " " + item.dataset.words).toLowerCase();
    item.hidden = !words.every(word => text.includes(word));
    shown += item.hidden ? 0 : 1;
  }
  for (const group of groups) group.hidden = !group.querySelector("li:not([hidden])");
  count.textContent = words.length ? shown + " found" : "";
});
"""


def render(book: Book) -> dict[str, str]:
    """The files of the printed handbook by name."""
    links = Links(book)
    files = {"index.html": _index(book), "handbook.css": STYLE}
    for kind in SHELVES:
        for name, entry in book.shelf(kind).items():
            files[file_of(kind, name)] = _entry(links, kind, name, entry)
    return files


def _entry(links: Links, kind: str, name: str, entry: BaseModel) -> str:
    leaf = _leaf(links, kind, name, entry)
    return page(leaf.title, leaf.above, leaf.body)


@dataclass(frozen=True, slots=True)
class Leaf:
    """One entry's page without a frame: its title, what kind of thing it is, and its body as HTML."""

    title: str
    above: str
    body: Html


def leaf(links: Links, kind: str, name: str) -> Leaf:
    """An entry laid out for a frame of another's making; links go to files beside it.

    Raises:
        KeyError: the book holds no such entry.
    """
    return _leaf(links, kind, name, links.book.shelf(kind)[name])


def found(book: Book, search: str) -> dict[str, tuple[tuple[str, str], ...]]:
    """By kind, the file and title of every entry that all words of a search fit; of every entry without a search."""
    words = search.casefold().split()
    shelves: dict[str, tuple[tuple[str, str], ...]] = {}
    for kind in SHELVES:
        fits = [
            (file_of(kind, name), title(book, kind, name)) for name, entry in book.shelf(kind).items()
            if _fits(words, f"{title(book, kind, name)} {getattr(entry, 'system', '')} {_words(name, entry)}")
        ]
        if fits:
            shelves[kind] = tuple(sorted(fits, key=lambda pair: pair[1].casefold()))
    return shelves


def _fits(words: list[str], text: str) -> bool:
    folded = text.casefold()
    return all(word in folded for word in words)


def _leaf(links: Links, kind: str, name: str, entry: BaseModel) -> Leaf:
    system = getattr(entry, "system", "")
    above = f"{KINDS[kind][0]}, {system}" if system else KINDS[kind][0]
    numbers: tuple[str, ...] = getattr(entry, "numbers", ())
    source = joined(
        [
            f"Source: {getattr(entry, 'source', '')}. ",
            f"Coverage list: {', '.join(numbers)}. " if numbers else "",
            f"Id: {name}.",
        ]
    )
    body = joined([_LAYOUTS[kind](links, entry), links.named_by(kind, name), tag("p", source, class_="source")], "\n")
    return Leaf(title(links.book, kind, name), above, body)


def _index(book: Book) -> str:
    search = tag(
        "div",
        tag("label", "Search", for_="box"),
        Html('<input id="box" type="search" autocomplete="off">'),
        tag("p", id="count", role="status"),
        class_="search",
        hidden="hidden",
    )
    note = "The maker's manual, local rules and a licensed trade where one is asked for go before anything said here."
    groups = [
        tag(
            "div",
            section(f"{KINDS[kind][1]} ({len(book.shelf(kind))})", _entries(book, kind)),
            class_="group",
        )
        for kind in SHELVES
        if book.shelf(kind)
    ]
    return page("Handbook", "", paragraph(note), search, *groups, tag("script", Html(_SEARCH)))


def _entries(book: Book, kind: str) -> Html:
    lines = []
    for name, entry in sorted(book.shelf(kind).items(), key=lambda pair: title(book, kind, pair[0]).casefold()):
        system = getattr(entry, "system", "")
        place = f" ({system})" if system else ""
        lines.append(
            tag(
                "li",
                link(file_of(kind, name), title(book, kind, name)),
                place,
                data_words=_words(name, entry),
            )
        )
    return tag("ul", *lines, class_="entries")


def _words(name: str, entry: BaseModel) -> str:
    """What else an entry is found by: its id, its numbers, the phrases that people use for it or its outcomes."""
    outcomes = [o for reading in getattr(entry, "readings", ()) for o in reading.outcomes]
    said = [word for outcome in outcomes for word in (outcome.name, *outcome.also)]
    return " ".join([name, *getattr(entry, "numbers", ()), *getattr(entry, "phrases", ()), *said])
