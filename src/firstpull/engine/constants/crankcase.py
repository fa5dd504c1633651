"""Constants of the crankcase."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "crankcase_soft_joint_mm2": Constant(2.5, "mm2", "judgement: joint gap that half seals at rest"),
    "crankcase_flow_share": Constant(0.5, "1", "judgement: mean flow over choked flow while it pumps"),
    "crankcase_vacuum_kpa": Constant(2.5, "kPa", "judgement: vacuum of a sound breather without blow-by"),
    "crankcase_blow_kpa_per_mm2": Constant(2.4, "kPa/mm2", "judgement"),
    "crankcase_blow_l_min_per_mm2": Constant(22.0, "L/min/mm2", "judgement: mean cylinder pressure about 4 bar"),
    "crankcase_spit_mm2": Constant(9.0, "mm2", "judgement: reed leak that spits back half the time"),
    "crankcase_spit_width_mm2": Constant(2.0, "mm2", "judgement"),
    "crankcase_running_k": Constant(330.0, "K", "judgement: gas in a running crankcase"),
}
