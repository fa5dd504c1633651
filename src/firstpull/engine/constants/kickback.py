"""Constants of kick-back."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "kick_hand_n": Constant(120.0, "N", "judgement: steady rope force of a usual arm while the burn builds up"),
    "kick_width": Constant(0.15, "1", "judgement: scatter of burns, about the ratio where half kick"),
    "kick_bounce_ratio": Constant(1.35, "1", "judgement: compression over carrying energy at which half bounce"),
    "kick_bounce_width": Constant(0.15, "1", "judgement"),
    "kick_spent_share": Constant(0.4, "1", "judgement: share of the compression work taken from the turning mass"),
}
