"""The pictures of a job."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.pages.head import JobHead, clock_time, fresh_act, head
from firstpull.bench.picturing import pictures_of
from firstpull.bench.shop import Shop
from firstpull.workshop.fold import JobRecord


@dataclass(frozen=True, slots=True)
class Shown:
    """One picture: where it is fetched, what it shows in words, when it was taken and by whom; if for the owner too."""

    act: str
    address: str
    caption: str
    words: str
    for_owner: bool = False


@dataclass(frozen=True, slots=True)
class PicturesPage:
    """All pictures of a job."""

    head: JobHead
    act_id: str
    pictures: tuple[Shown, ...]


def pictures_page(shop: Shop, job: str) -> PicturesPage:
    """The pictures of a job, the latest first.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    return PicturesPage(head(shop, record), fresh_act(), shown_pictures(record))


def shown_pictures(record: JobRecord) -> tuple[Shown, ...]:
    """The pictures of a record as a page draws them."""
    return tuple(
        Shown(p.act, f"/job/{record.job}/pictures/{p.hash}", p.caption or "No words with it",
              f"{p.when[:10]} {clock_time(p.when)}, {p.by}", p.for_owner)
        for p in pictures_of(record)
    )
