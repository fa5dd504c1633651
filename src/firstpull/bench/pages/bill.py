"""What is owed for what was done, and what may be charged."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.billing import ShownBill, show_bill
from firstpull.bench.pages.head import JobHead, head
from firstpull.bench.shop import Shop


@dataclass(frozen=True, slots=True)
class BillPage:
    """The bill of a job as it stands, and the minutes it was made from."""

    head: JobHead
    bill: ShownBill
    hands_on: int
    waiting: int
    doubtful: int


def bill_page(shop: Shop, job: str) -> BillPage:
    """The bill of a job. Nothing is kept by looking.

    Raises:
        FirstpullError: there is no such job, or a setting cannot be read.
    """
    record = shop.record(job)
    worked = record.worked
    return BillPage(head(shop, record), show_bill(shop, job), round(worked.hands_on), round(worked.waiting),
                    len(worked.doubtful))
