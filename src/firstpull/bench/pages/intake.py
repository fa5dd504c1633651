"""Taking in: what the counter can choose from."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.pages.head import Choice, fresh_act, today
from firstpull.bench.shop import Shop

# Complaints that stand on the counter as one tap each; all others are typed in the customer's words.
AT_THE_COUNTER = (
    "will-not-start", "hard-to-start", "dies-after-seconds", "dies-when-warm", "hunts-at-idle", "no-power",
    "kicks-back", "rope-stays-out", "will-not-stop", "smells-of-fuel", "shakes", "just-a-service",
)
ASKED_FIRST = (
    "stored-with-fuel", "old-fuel-can", "struck-something", "home-repair", "tipped-on-side", "in-the-rain",
    "only-when-hot", "died-at-once",
)


@dataclass(frozen=True, slots=True)
class IntakePage:
    """What the counter can choose from."""

    act_id: str
    day: str
    machines: tuple[Choice, ...]
    taps: tuple[Choice, ...]
    told: tuple[Choice, ...]
    more_told: tuple[Choice, ...]
    complaints: tuple[str, ...]


def intake_page(shop: Shop) -> IntakePage:
    """The choices at the counter."""
    book = shop.room.book
    told = {t.id: Choice(t.id, t.name) for t in book.told.values()}
    first = [i for i in ASKED_FIRST if i in told]
    return IntakePage(
        fresh_act(), today(shop.clock()),
        tuple(Choice(m.id, m.name) for m in sorted(book.machines.values(), key=lambda m: m.name)),
        tuple(Choice(c, book.complaints[c].name) for c in AT_THE_COUNTER if c in book.complaints),
        tuple(told[i] for i in first), tuple(c for i, c in told.items() if i not in first),
        tuple(c.name for c in book.complaints.values()),
    )
