"""What was before: earlier jobs of the same machine, and what a comeback is measured against."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.history import ComebackShown, PastShown, comeback_of, earlier_jobs
from firstpull.bench.pages.find import reading_words
from firstpull.bench.pages.head import JobHead, clock_time, fresh_act, head
from firstpull.bench.shop import Shop
from firstpull.handbook.book import Book
from firstpull.workshop.events import Event


@dataclass(frozen=True, slots=True)
class Happened:
    """One act of this job in one line."""

    when: str
    by: str
    what: str


@dataclass(frozen=True, slots=True)
class HistoryPage:
    """Earlier jobs, the first job when it came back, and every act of this one."""

    head: JobHead
    act_id: str
    earlier: tuple[PastShown, ...]
    comeback: ComebackShown | None
    acts: tuple[Happened, ...]


def history_page(shop: Shop, job: str) -> HistoryPage:
    """What was before, and all that was done.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    acts = tuple(
        Happened(f"{e.when[:10]} {clock_time(e.when)}", e.by,
                 _words(shop.room.book, e) + (" (withdrawn)" if e.act_id in record.withdrawn else ""))
        for e in record.events if e.kind != "advised"
    )
    return HistoryPage(head(shop, record), fresh_act(), earlier_jobs(shop, job), comeback_of(shop, job), acts)


def _words(book: Book, event: Event) -> str:
    """One act in one line, by the names of the handbook where it has them."""
    body = event.body
    match event.kind:
        case "reading":
            return f"{_name(book, ('check', 'complaint'), body.get('check'))}: {reading_words(book, event)}"
        case "access":
            return f"{_name(book, ('access',), body.get('item'))}: {body.get('state', '')}"
        case "repair":
            return f"{_name(book, ('repair',), body.get('repair'))}: done by {body.get('by') or 'shop'}"
        case "told":
            said = ", ".join(_name(book, ("told",), t) for t in body.get("told", []))
            return f"Told: {said}, {body.get('answer', 'yes')}"
        case "photo":
            return f"Picture: {body.get('caption') or 'no words with it'}"
        case "photo-for-owner":
            return f"A picture {'goes on' if body.get('shown', True) else 'comes off'} the hand-over sheet"
    about = [body.get(k) for k in ("part", "name", "to", "way", "state", "value", "unit", "why", "text", "caption")]
    words = " ".join(str(a) for a in about if isinstance(a, str | int | float) and a != "")
    kind = event.kind.replace("-", " ").capitalize()
    return f"{kind}: {words}" if words else kind


def _name(book: Book, kinds: tuple[str, ...], name: object) -> str:
    """The name of an entry on one of these shelves; what no shelf holds stands as it was kept."""
    return next((book.name(k, str(name)) for k in kinds if name in book.shelf(k)), str(name))
