"""What was read, marked on the strip of its check."""

from __future__ import annotations

from dataclasses import replace

from firstpull.base.errors import FirstpullError
from firstpull.bench.pages.find import reading_words
from firstpull.bench.pages.head import clock_time
from firstpull.bench.reading import read_values
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip


def marked(shop: Shop, job: str, strip: Strip) -> tuple[Strip, str]:
    """The strip with the last reading of its check since the machine was last mended, and that reading in words.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    mended = max((e.seq for e in record.repairs), default=0)
    mine = [e for e in record.readings if e.body.get("check") == strip.check and e.seq > mended]
    last = next((e for e in reversed(mine) if e.body.get("reading") != "not-done"), None)
    check = shop.room.book.checks.get(strip.check)
    if last is None or check is None:
        return strip, ""
    words = f"Read {clock_time(last.when)}: {reading_words(shop.room.book, last)}"
    try:
        reads = read_values(check, last.body.get("reading"), last.body.get("spread"))
    except FirstpullError:
        return strip, words
    number = next((r.number for r in reads if r.number is not None), None)
    word = reading_words(shop.room.book, last) if number is None else ""
    return replace(strip, mark=number, read=word), words
