"""What a page may show of a job at this moment, without waiting for anybody who reckons."""

from __future__ import annotations

import contextlib
from contextvars import ContextVar
from dataclasses import dataclass
from threading import Thread
from typing import Any

from firstpull.base.errors import FirstpullError
from firstpull.bench.reckoner import Known, Reckoner
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.pool import Pool
from firstpull.bench.thinking.short import keep_short
from firstpull.workshop.fold import JobRecord

MOST_AHEAD = 24  # open jobs that are reckoned when the workshop opens, before anybody asks
PATIENCE_SECONDS = 60.0
GLANCE_SECONDS = 0.8  # a page without scripts that looks again by itself would break off a longer wait
# How long whoever asks here may be kept waiting: an act is carried through, a page comes again by itself.
patience: ContextVar[float | None] = ContextVar("patience", default=None)
AGAIN = "The reckoning stopped and was started again. Everything you entered is kept."
GIVEN_UP = "This could not be reckoned. Everything you entered is kept; enter what you do next all the same."


class NotYetError(FirstpullError):
    """It is being reckoned and will be there in a while."""


@dataclass(frozen=True, slots=True)
class Seen:
    """The last answer, whether it counts every act, whether it has settled, and what went wrong on the way.

    `news` changes whenever there is more to see.
    """

    answer: dict[str, Any] | None
    counts_all: bool
    settled: bool
    news: str
    words: str = ""

    @property
    def thinking(self) -> bool:
        """Whether more will come by itself."""
        return not self.settled and self.words != GIVEN_UP


def see(pool: Reckoner, shop: Shop, record: JobRecord) -> Seen:
    """What is known of a job now; what is missing is wanted from here on."""
    shop.think(record)
    mark = shop.mark(record)
    known = pool.known(record.job)
    fresh = known is not None and known.mark == mark
    settled = known is not None and fresh and known.settled
    again = pool.restarted(record.job, mark)
    words = GIVEN_UP if pool.trouble(record.job, mark) else AGAIN if again else ""
    stage = 2 if settled else 1 if fresh else 0
    return Seen(known.answer if known else None, fresh, settled, f"{mark}.{stage}.{len(words)}", words)


def settled_answer(pool: Reckoner, shop: Shop, record: JobRecord) -> dict[str, Any]:
    """The settled answer to a job; for acts that need it whole, such as a price that is said.

    Raises:
        NotYetError: it did not come in the time that whoever asks may be kept waiting.
        FirstpullError: it could not be reckoned at all.
    """
    shop.think(record)
    seconds = patience.get() or PATIENCE_SECONDS
    known = pool.wait_settled(record.job, shop.mark(record), seconds)
    if known is not None:
        return known.answer
    if why := pool.trouble(record.job, shop.mark(record)):
        raise FirstpullError("this job could not be reckoned", f"job {record.job}: {why}", "ask again in a while")
    where = f"job {record.job}: {seconds:g} seconds were not enough"
    raise NotYetError("this job is still being reckoned", where, "ask again in a while")


def think_in_workers(shop: Shop, size: int = 2) -> Pool:
    """From now on reckon in processes of their own; open jobs are begun at once, so that none is met cold."""
    def told(job: str, known: Known) -> None:
        with contextlib.suppress(FirstpullError):  # a word for the rack: it is said again with the next answer
            keep_short(shop, job, known.mark, known.answer, known.lights)

    pool = Pool(shop.room.book, shop.room.seed, shop.room.shelf, size, told)
    shop.room.shelf = None  # the workers keep it; here only the record is read
    shop.pool = pool
    pool.start()
    Thread(target=_begin, args=(shop,), name="reckoning ahead", daemon=True).start()
    return pool


def _begin(shop: Shop) -> None:
    with contextlib.suppress(FirstpullError):  # only ahead of time: whoever opens the job asks again
        for line in shop.store.jobs(open_only=True, limit=MOST_AHEAD):
            shop.think(shop.record(line.job), eager=False)
