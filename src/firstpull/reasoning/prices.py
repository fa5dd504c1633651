"""What time and money are worth in this shop, what it owns, and what it has ruled out on this job."""

from __future__ import annotations

from dataclasses import dataclass, field

# All judgement, to be replaced by the shop's own settings.
RATE_PER_HOUR = 60.0
PROOF_PRICE = 25.0
PROOF_SHARE = 0.95
COMEBACK_MINUTES = 45.0
WORTH_SHARE = 1.0  # giving up costs the owner a like machine; what is broken fetches next to nothing
WAITING_WEIGHT = 0.05


@dataclass(frozen=True, slots=True)
class Prices:
    """Money is in the shop's currency; minutes are hands-on unless said.

    `proof_price`: parts dearer than this are bought only when the repair cures with `proof_share`. `owned`: the
    instruments at hand, None for all usual ones. `masked`: checks and repairs not to be proposed on this job.
    """

    rate_per_hour: float = RATE_PER_HOUR
    proof_price: float = PROOF_PRICE
    proof_share: float = PROOF_SHARE
    comeback_minutes: float = COMEBACK_MINUTES
    worth_share: float = WORTH_SHARE
    waiting_weight: float = WAITING_WEIGHT
    owned: frozenset[str] | None = None
    masked: frozenset[str] = field(default_factory=frozenset)
    unlocked: frozenset[str] = field(default_factory=frozenset)

    def minutes(self, money: float) -> float:
        """Money as minutes of work at the shop's rate."""
        return money / self.rate_per_hour * 60.0

    def money(self, minutes: float) -> float:
        """Minutes of work as money at the shop's rate."""
        return minutes * self.rate_per_hour / 60.0
