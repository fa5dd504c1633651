"""The bench chart of a job while it is worked out, and once it is there."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.find import session_of
from firstpull.bench.order_tree import tree_of
from firstpull.bench.pages.head import JobHead, head
from firstpull.bench.shop import Shop


@dataclass(frozen=True, slots=True)
class ChartPage:
    """Whose chart it is, and whether it can be printed now."""

    head: JobHead
    ready: bool


def chart_page(shop: Shop, job: str) -> ChartPage:
    """How far the chart of a job is; whoever asks first has it begun.

    Raises:
        InputError: there is no such job, or its kind of machine is not known.
        FirstpullError: it could not be worked out.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    ready = shop.pool is None or tree_of(shop, record, session) is not None
    return ChartPage(head(shop, record), ready)
