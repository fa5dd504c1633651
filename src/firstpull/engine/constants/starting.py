"""Constants of starting and of keeping running."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "best_pull_chance": Constant(0.75, "1", "judgement: a healthy machine starts on three pulls of four"),
    "start_lean_phi": Constant(0.65, "1", "fire-service tables of petrol in air, second-hand"),
    "start_rich_phi": Constant(3.2, "1", "fire-service tables of petrol in air, second-hand"),
    "run_lean_phi": Constant(0.62, "1", "from memory: misfire below about 0.65-0.7"),
    "run_rich_phi": Constant(2.3, "1", "from memory"),
    "mixture_width": Constant(0.05, "1", "judgement"),
    "latest_start_deg": Constant(8.0, "deg", "judgement"),
    "earliest_start_deg": Constant(48.0, "deg", "judgement"),
    "timing_width_deg": Constant(2.5, "deg", "judgement"),
    "start_peak_kpa": Constant(310.0, "kPa", "judgement: about 40 psi by gauge, warm engine with valves"),
    "start_peak_ported_kpa": Constant(
        500.0, "kPa", "judgement: a two-stroke below 90 psi is hard to start, below 60 dead (common practice)"
    ),
    "start_peak_width_kpa": Constant(25.0, "kPa", "judgement"),
    "start_charge_k": Constant(412.0, "K", "judgement: boiling middle of petrol, what evaporating it takes, and haste"),
    "start_charge_width_k": Constant(5.0, "K", "judgement: about 5 psi by gauge"),
    "start_speed_rpm": Constant(190.0, "rpm", "judgement: slower, and the charge leaks and cools away"),
    "start_speed_width_rpm": Constant(20.0, "rpm", "judgement"),
    "breathing_middle": Constant(0.22, "1", "judgement"),
    "breathing_width": Constant(0.04, "1", "judgement"),
    "misfire_tolerance": Constant(0.45, "1", "judgement: share of sparks it can miss and still run"),
    "pulls_tried": Constant(5.0, "1", "judgement: what people give a cold engine"),
    "run_tight_middle": Constant(0.3, "1", "judgement: indicated work left that just carries its own friction"),
    "run_tight_width": Constant(0.04, "1", "judgement"),
    "hard_pull_share": Constant(1.5, "1", "judgement: the hardest pull over a usual one"),
}
