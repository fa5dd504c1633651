"""A short word of what comes next on a job, kept with the record, so that the rack shows it without reckoning."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from firstpull.base.clock import stamp
from firstpull.bench.shop import Shop
from firstpull.workshop.fold import JobRecord

SHORT_KEY = "said-in-short"


@dataclass(frozen=True, slots=True)
class Short:
    """The next step of a job as the rack shows it; `lights` when it sparks or runs.

    `counts_all` says whether it counts every act, `at` when it was said.
    """

    name: str
    minutes: int
    left: int
    lights: bool = False
    counts_all: bool = True
    at: str = ""


def keep_short(shop: Shop, job: str, mark: str, known: Mapping[str, Any], lights: bool) -> None:
    """Keep a short word of an answer.

    Raises:
        StorageError: it could not be written.
    """
    left = float(known["cost"]["minutes"]["expected"])
    short = {"mark": mark, "name": known["next"]["name"], "minutes": round(known["next"]["minutes"]),
             "left": round(left), "lights": lights, "at": stamp(shop.clock())}
    shop.store.put_setting(f"{SHORT_KEY}-{job}", short)


def last_short(shop: Shop, record: JobRecord) -> Short | None:
    """What was last said of a job, without reckoning, whether or not something was done since."""
    held = shop.store.get_setting(f"{SHORT_KEY}-{record.job}")
    if not isinstance(held, dict) or "mark" not in held:
        return None
    return Short(str(held["name"]), int(held["minutes"]), int(held["left"]), bool(held.get("lights")),
                 held["mark"] == shop.mark(record), str(held.get("at", "")))


def said_in_short(shop: Shop, record: JobRecord) -> Short | None:
    """What was last said of a job; none when something was done since."""
    short = last_short(shop, record)
    return short if short is not None and short.counts_all else None
