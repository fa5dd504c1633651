"""Mend it or retire it: the likely repair against what the machine is worth to its owner."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firstpull.base.money import Money
from firstpull.workshop.pricing import Span

RETIRE_SHARE = Decimal("0.5")  # common practice, no source: above half of its worth people buy another one


@dataclass(frozen=True, slots=True)
class Worth:
    """The comparison: what to say, and the usual repair as a share of the worth."""

    verdict: Literal["mend", "ask", "retire", "unknown"]
    share: Decimal | None
    worth: Money | None


def against_worth(due: Span, worth: Money | None, share: Decimal = RETIRE_SHARE) -> Worth:
    """Mend when even the high price keeps below the share, retire when even the low one does not."""
    if worth is None or worth.amount <= 0:
        return Worth("unknown", None, worth)
    limit = worth * share
    found = (due.usual.amount / worth.amount).quantize(Decimal("0.01"))
    if due.high <= limit:
        return Worth("mend", found, worth)
    return Worth("ask" if due.low <= limit else "retire", found, worth)
