"""Constants of oil, smoke and noise."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "oil_dipper_mm": Constant(-22.0, "mm", "judgement: level at which the dipper misses half the time"),
    "oil_dipper_width_mm": Constant(3.0, "mm", "judgement"),
    "oil_blue_ml_min": Constant(0.32, "mL/min", "judgement: burnt oil that half the eyes see, 160 cm3"),
    "oil_blue_width_ml_min": Constant(0.07, "mL/min", "judgement"),
    "oil_white_cm3": Constant(2.0, "cm3", "judgement: oil in the muffler that clouds half the time"),
    "oil_white_width_cm3": Constant(0.5, "cm3", "judgement"),
    "oil_boil_cm3_min": Constant(1.6, "cm3/min", "judgement: oil that a hot muffler boils off"),
    "oil_puff_mm": Constant(0.14, "mm", "judgement: guide play that puffs at the start half the time"),
    "oil_puff_width_mm": Constant(0.025, "mm", "judgement"),
    "oil_knock_mm": Constant(0.28, "mm", "judgement: big end play that half the ears hear"),
    "oil_knock_width_mm": Constant(0.05, "mm", "judgement"),
    "oil_squeal_film": Constant(0.35, "1", "judgement: film at which dry metal is heard half the time"),
    "oil_squeal_width": Constant(0.06, "1", "judgement"),
}
