"""Links from entry to entry, there and back."""

from __future__ import annotations

from collections.abc import Iterable

from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.entries import Needs
from firstpull.handbook.pages.frame import Html, bullets, joined, link, section
from firstpull.handbook.pages.wording import KINDS
from firstpull.handbook.references import REFERENCES, named

_MEANT = {"machine class": "machine", "machine class or default": "machine"}

# Pages that tell these themselves, with what belongs to it.
_TOLD_ABOVE = {("fault", "repair"), ("told", "fault")}


class Links:
    """The pages of a book and who names whom."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self._back: dict[tuple[str, str], dict[tuple[str, str], None]] = {}
        for kind, references in REFERENCES.items():
            for name, entry in book.shelf(kind).items():
                for path, target in references:
                    for _, word in named(entry, path):
                        self._back.setdefault((_MEANT.get(target, target), word), {})[kind, name] = None

    def to(self, kind: str, entry_id: str) -> Html:
        """A link to an entry; its plain id when the book does not hold it."""
        if entry_id not in self.book.shelf(kind):
            return joined([entry_id])
        return link(file_of(kind, entry_id), title(self.book, kind, entry_id))

    def all_to(self, kind: str, ids: Iterable[str]) -> Html:
        """Links one after the other."""
        return joined([self.to(kind, one) for one in ids], ", ")

    def needs(self, needs: Needs) -> Html:
        """What must be off, and what on, as links."""
        off = joined(["off: ", self.all_to("access", needs.off)]) if needs.off else Html("")
        on = joined(["on: ", self.all_to("access", needs.on)]) if needs.on else Html("")
        return joined([half for half in (off, on) if half], "; ")

    def named_by(self, kind: str, entry_id: str) -> Html:
        """Everything that names an entry, by kind."""
        found: dict[str, list[str]] = {}
        for there, name in self._back.get((kind, entry_id), {}):
            found.setdefault(there, []).append(name)
        return joined(
            section(
                f"{KINDS[there][1]} that name it",
                bullets(self.to(there, name) for name in sorted(found[there])),
            )
            for there in SHELVES
            if there in found and (kind, there) not in _TOLD_ABOVE
        )


def title(book: Book, kind: str, entry_id: str) -> str:
    """What stands at the top of the page of an entry."""
    return book.cautions[entry_id].text if kind == "caution" else book.name(kind, entry_id)


def file_of(kind: str, entry_id: str) -> str:
    """The file of an entry's page."""
    return f"{kind}-{entry_id}.html"
