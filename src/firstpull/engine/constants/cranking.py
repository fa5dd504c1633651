"""Constants of cranking and of the rope starter."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "arm_strongest_share": Constant(4.5, "1", "judgement: load at which a usual arm stands still over the usual load"),
    "arm_curvature": Constant(0.35, "1", "from memory: a/F0 of muscle about 0.25, softer for a whole arm"),
    "hand_friction_nm": Constant(1.1, "N.m", "judgement: bearings and oil of a 160 cm3 engine at 20 C"),
    "hand_compression_nm": Constant(0.7, "N.m", "judgement: mean of what compression costs and gives back, 160 cm3"),
    "usual_reel_nm": Constant(0.25, "N.m", "judgement: friction of a sound rope starter"),
    "jammed_reel_nm": Constant(6.0, "N.m", "judgement: friction of a reel with the rope off or crossed"),
    "least_grip": Constant(0.25, "1", "judgement: share of the pull below which nothing turns"),
    "brisk_share": Constant(0.5, "1", "judgement: below half its usual speed a rope is called stiff, not pulled"),
    "least_turn_rpm": Constant(40.0, "rpm", "judgement: slower is not cranking"),
    "oil_halving_k": Constant(22.0, "K", "judgement: multigrade oil"),
    "lazy_share": Constant(0.6, "1", "judgement: speed of a lazy pull over a usual one"),
    "drill_plug_in_share": Constant(0.7, "1", "judgement: a drill against compression"),
    "rewind_nm": Constant(0.9, "N.m", "judgement: spring torque with the rope half out"),
    "rewind_width_nm": Constant(0.2, "N.m", "judgement: a weak spring brings it back, but slowly"),
}
