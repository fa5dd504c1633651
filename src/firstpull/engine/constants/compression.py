"""Constants of compression, by hand, rope and gauge."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "compression_heat_w_m2k": Constant(120.0, "W/(m2 K)", "judgement: gives polytropic 1.32 at pulling speed"),
    "compression_discharge": Constant(0.75, "1", "judgement: between a sharp (0.62) and a rounded (0.95) edge"),
    "compression_rope_share": Constant(0.06, "1", "judgement: the flywheel carries the rest of the peak"),
    "compression_oil_seal": Constant(0.35, "1", "judgement: ring leak with oil over dry"),
    "compression_oil_stays": Constant(0.67, "1", "judgement: share of the oil that stays above the piston"),
    "compression_hot_wall_k": Constant(390.0, "K", "judgement"),
    "compression_hot_charge_k": Constant(22.0, "K", "judgement: how much warmer the charge of a hot engine is"),
    "compression_slow_rpm": Constant(120.0, "rpm", "judgement: slow pull by hand"),
    "compression_firm_kpa": Constant(80.0, "kPa", "judgement: slow pressure that half the hands call a bump"),
    "compression_firm_width_kpa": Constant(20.0, "kPa", "judgement"),
    "compression_choke_part": Constant(0.985, "1", "judgement: trapped over ambient pressure, choke part"),
    "compression_choke_closed": Constant(0.94, "1", "judgement: trapped over ambient pressure, choke closed"),
    "compression_score_mm2": Constant(1.2, "mm2", "judgement: leak of a wholly scored piston beside its rings"),
    "compression_wear_mm2_per_mm": Constant(4.0, "1", "judgement: leak a millimetre of bore wear beyond 0.08 mm"),
    "compression_bolts_mm2": Constant(2.0, "mm2", "judgement: joint leak with no bolt tension left"),
    "compression_warp_mm2_per_mm": Constant(4.0, "1", "judgement: joint leak a millimetre of warp beyond 0.05 mm"),
    "compression_object_mm2": Constant(3.0, "mm2", "judgement: leak by valve or piston after a swallowed object"),
    "compression_broken_mm2": Constant(400.0, "mm2", "judgement: a broken rod compresses nothing"),
    "compression_lock_share": Constant(0.9, "1", "judgement: liquid over clearance at which half lock"),
    "compression_lock_width": Constant(0.05, "1", "judgement"),
    "compression_held_width": Constant(0.08, "1", "judgement: drag over what an arm can do, between stiff and locked"),
    "compression_carbon_share": Constant(0.12, "1", "judgement: clearance taken by a thick crust"),
    "compression_hard_pull": Constant(1.35, "1", "judgement: rope force over usual that half the owners call hard"),
    "compression_hard_pull_width": Constant(0.07, "1", "judgement"),
}
