"""One reading strip, made only when somebody asks for it."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.bench.find import session_of
from firstpull.bench.pages.find import suspect_rows
from firstpull.bench.pages.head import JobHead, head
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip
from firstpull.bench.thinking.said import seen, strip_of
from firstpull.handbook.findings import nearest


@dataclass(frozen=True, slots=True)
class StripPage:
    """The strip of one check; none for a complaint that is tried again."""

    head: JobHead
    title: str
    strip: Strip | None


def strip_page(shop: Shop, job: str, check: str) -> StripPage:
    """The strip of a check as it would be done next.

    Raises:
        InputError: there is no such job, or its class has no such check.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    known = {**session.book.checks, **session.book.complaints}
    if check not in known:
        raise InputError(f"'{session.book.machine.id}' has no check '{check}'", "check", nearest(check, known))
    now = seen(shop, record, session)
    rows = suspect_rows(shop, record, now.answer) if now.answer is not None else ()
    numbered = [(r.number, r.name, frozenset(r.faults)) for r in rows]
    return StripPage(head(shop, record), known[check].name, strip_of(shop, record, session, check, numbered))
