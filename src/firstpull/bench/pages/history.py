"""What was before: earlier jobs of the same machine, and what a comeback is measured against."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.history import ComebackShown, PastShown, comeback_of, earlier_jobs
from firstpull.bench.pages.head import JobHead, clock_time, fresh_act, head
from firstpull.bench.shop import Shop


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
    acts = []
    for event in record.events:
        if event.kind == "advised":
            continue
        body = event.body
        about = [body.get(key) for key in ("check", "item", "repair", "part", "name", "to", "way", "state", "reading",
                                           "value", "unit", "why", "text", "caption")]
        words = " ".join(str(a) for a in about if isinstance(a, str | int | float) and a != "")
        gone = " (withdrawn)" if event.act_id in record.withdrawn else ""
        acts.append(Happened(f"{event.when[:10]} {clock_time(event.when)}", event.by,
                             f"{event.kind.replace('-', ' ')} {words}".strip() + gone))
    return HistoryPage(head(shop, record), fresh_act(), earlier_jobs(shop, job), comeback_of(shop, job), tuple(acts))
