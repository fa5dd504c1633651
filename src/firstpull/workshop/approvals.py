"""Who agreed to what, up to what sum: two yeses, one to find it and one to mend it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstpull.base.money import Money
from firstpull.workshop.events import Event
from firstpull.workshop.fold import money_of


@dataclass(frozen=True, slots=True)
class Agreed:
    """What stands now. A yes without a sum agrees to the act and to no money above what was agreed before."""

    to_find: bool = False
    find_limit: Money | None = None
    to_mend: bool = False
    mend_limit: Money | None = None
    last: Event | None = None

    @property
    def limit(self) -> Money | None:
        """The most that may be charged; nothing when no sum was ever agreed."""
        return self.mend_limit if self.to_mend else self.find_limit

    def allows(self, due: Money) -> bool:
        """Whether so much may be charged without asking again."""
        return self.limit is not None and due <= self.limit


def agreed(approvals: Iterable[Event]) -> Agreed:
    """The latest word on each question counts, as the record has it."""
    now = Agreed()
    for event in approvals:
        yes, limit = bool(event.body.get("yes")), money_of(event.body.get("sum"))
        if event.body.get("to") == "find":
            now = Agreed(yes, limit if yes else None, now.to_mend, now.mend_limit, event)
        elif event.body.get("to") == "mend":
            kept = limit or now.mend_limit or now.find_limit
            now = Agreed(now.to_find, now.find_limit, yes, kept if yes else None, event)
    return now
