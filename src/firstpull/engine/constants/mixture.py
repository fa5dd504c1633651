"""Constants of mixture strength and what it does."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "crank_feed": Constant(0.8, "1", "judgement: mixture at pulling speed over that at load, choke open"),
    "prime_phi": Constant(2.0, "1", "judgement: a few drops in the intake, as supply to the first charges"),
    "flood_phi_per_ml": Constant(1.0, "1/mL", "judgement: supply that a millilitre of lying fuel adds, at 160 cm3"),
    "bulb_phi": Constant(8.25, "1", "judgement: supply that a full primer shot adds where there is no choke plate"),
    "misfire_lean_phi": Constant(0.69, "1", "lean misfire about 0.68-0.70 with ordinary mixing, from memory"),
    "misfire_lean_width": Constant(0.02, "1", "judgement"),
    "misfire_rich_phi": Constant(2.2, "1", "judgement: AFR about 6.5 still burns, an aviation training page read 5.5"),
    "misfire_rich_width": Constant(0.12, "1", "judgement"),
    "water_misfire": Constant(0.25, "1", "judgement: share of water in the fuel at which burning fails"),
    "diesel_misfire": Constant(0.35, "1", "judgement: share of heavy fuel at which burning fails"),
    "best_torque_phi": Constant(1.12, "1", "best power 10-15 % rich, from memory"),
    "lean_torque_loss": Constant(1.9, "1", "judgement, near IMEP 8.7/6.8/5.8 bar at 1.0/0.8/0.7"),
    "rich_torque_loss": Constant(0.55, "1", "judgement"),
    "wet_liquid_phi": Constant(1.6, "1", "judgement: liquid that wets a plug in four choked pulls"),
    "wet_width": Constant(0.35, "1", "judgement"),
    "smoke_phi": Constant(1.55, "1", "judgement: black smoke plainly seen"),
    "smoke_width": Constant(0.07, "1", "judgement"),
    "steady_lean_phi": Constant(0.8, "1", "judgement: below it the engine is unsteady"),
    "steady_rich_phi": Constant(1.8, "1", "judgement: above it the engine is sluggish"),
    "steady_width": Constant(0.05, "1", "judgement"),
    "pop_lean_phi": Constant(0.72, "1", "judgement: lean enough to pop back when opened"),
    "pop_width": Constant(0.035, "1", "judgement"),
    "stall_margin": Constant(0.06, "1", "judgement: width of the edge between pulling and stalling"),
    "bulb_reaches": Constant(0.3, "1", "judgement: share of a primer shot that the first charges get"),
    "bulb_pressed_c": Constant(8.0, "C", "judgement: below this people press the bulb beside closing the choke"),
    "bulb_pressed_width_c": Constant(3.0, "C", "judgement"),
    "unprimed_loss": Constant(
        0.72, "1", "judgement: fuel that dry lines keep back in the first pulls where the bulb fills them"
    ),
    "overflow_start_gain": Constant(2.5, "1", "judgement: raw fuel at pulling speed over that at idle"),
    "opening_leans": Constant(0.96, "1", "judgement: mixture between idle and load while the throttle opens"),
    "bog_lean_phi": Constant(0.8, "1", "judgement: it bogs below this while it opens"),
    "bog_rich_phi": Constant(1.85, "1", "judgement: it bogs above this"),
    "bog_supply_share": Constant(0.6, "1", "judgement: it bogs below this supply"),
}
