"""The handbook as it is read at the bench: its index, one entry, and the figures of all classes side by side."""

from __future__ import annotations

from dataclasses import dataclass
from weakref import WeakKeyDictionary

from firstpull.base.errors import InputError
from firstpull.bench.pages.head import Choice
from firstpull.bench.shop import Shop
from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.findings import nearest
from firstpull.handbook.pages.links import Links, file_of
from firstpull.handbook.pages.render import found, leaf
from firstpull.handbook.pages.wording import KINDS, range_of

# What a hand at the bench looks for first.
ORDER = ("fault", "check", "repair", "caution", "complaint", "machine", "instrument", "access", "told", "release",
         "drive", "retired")
LONGEST_SEARCH = 100
NO_FIGURE = "no figure held"


@dataclass(frozen=True, slots=True)
class Kind:
    """All entries of one kind, or those that a search found."""

    name: str
    entries: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class IndexPage:
    """The handbook's index."""

    search: str
    kinds: tuple[Kind, ...]
    count: int


@dataclass(frozen=True, slots=True)
class EntryPage:
    """One entry: its title, what kind of thing it is, and its body, which is HTML already."""

    title: str
    above: str
    body: str


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One class's range of a figure, its standing and where it comes from."""

    machine: Choice
    reads: str
    standing: str
    source: str


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure over all classes; classes that hold none say so."""

    id: str
    name: str
    held: int
    rows: tuple[FigureRow, ...]


@dataclass(frozen=True, slots=True)
class MachinesPage:
    """All machine classes and their figures."""

    machines: tuple[Choice, ...]
    figures: tuple[Figure, ...]


_links: WeakKeyDictionary[Book, Links] = WeakKeyDictionary()


def index_page(shop: Shop, search: str = "") -> IndexPage:
    """Every entry by kind, or those that all words of a search fit."""
    words = search[:LONGEST_SEARCH]
    shelves = found(shop.room.book, words)
    kinds = tuple(Kind(KINDS[k][1], tuple(Choice(f, t) for f, t in shelves[k])) for k in ORDER if k in shelves)
    return IndexPage(words, kinds, sum(len(kind.entries) for kind in kinds))


def entry_page(shop: Shop, file: str) -> EntryPage:
    """One entry by the name of its page.

    Raises:
        InputError: the handbook has no such page.
    """
    book = shop.room.book
    kind, _, name = file.removesuffix(".html").partition("-")
    if kind not in SHELVES or name not in book.shelf(kind) or not file.endswith(".html"):
        near = nearest(name, book.shelf(kind)) if kind in SHELVES else "look for it in the index"
        raise InputError(f"the handbook has no page '{file[:60]}'", "handbook", near)
    if book not in _links:
        _links[book] = Links(book)
    page = leaf(_links[book], kind, name)
    return EntryPage(page.title, page.above, str(page.body))


def machines_page(shop: Shop) -> MachinesPage:
    """The figures of every class side by side."""
    machines = sorted(shop.room.book.machines.values(), key=lambda m: m.name)
    links = {m.id: Choice(file_of("machine", m.id), m.name) for m in machines}
    names = {spec.id: spec.name for machine in machines for spec in machine.specs}
    figures = []
    for figure, name in sorted(names.items(), key=lambda pair: pair[1].casefold()):
        rows = []
        for machine in machines:
            spec = next((s for s in machine.specs if s.id == figure), None)
            if spec is None:
                rows.append(FigureRow(links[machine.id], NO_FIGURE, "", ""))
            else:
                rows.append(FigureRow(links[machine.id], range_of(spec), spec.standing, spec.source))
        held = sum(row.reads != NO_FIGURE for row in rows)
        figures.append(Figure(figure, name, held, tuple(rows)))
    return MachinesPage(tuple(links.values()), tuple(figures))
