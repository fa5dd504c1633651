"""Constants of valves and release."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "valves_release_bump_mm": Constant(0.25, "mm", "judgement: lash beyond nominal that loses the release"),
    "valves_release_off_rpm": Constant(1150.0, "rpm", "judgement: crank speed at which the weights let go"),
    "valves_release_off_share": Constant(0.35, "1", "judgement: the same over rated speed, for fast engines"),
    "valves_release_width_rpm": Constant(60.0, "rpm", "judgement"),
    "valves_stuck_ends_deg": Constant(8.0, "deg", "judgement: where a release that sticks closes"),
    "valves_stuck_share": Constant(0.7, "1", "judgement: what a stuck release costs at speed over an open leak"),
    "valves_cam_breath_deg": Constant(24.0, "deg", "judgement: cam error that leaves 1/e of the breath of a pull"),
    "valves_cam_power_deg": Constant(35.0, "deg", "judgement: cam error that leaves 1/e of the power"),
    "valves_fill_lift_mm": Constant(0.5, "mm", "judgement: lift that fills to 1 - 1/e at pulling speed"),
    "valves_loose_cold_mm2": Constant(0.6, "mm2", "judgement"),
    "valves_loose_hot_mm2": Constant(9.0, "mm2", "judgement: a tenth of a millimetre along a seat that has shifted"),
    "valves_lash_deg_per_mm": Constant(40.0, "deg/mm", "judgement"),
    "valves_tick_mm": Constant(0.38, "mm", "judgement: lash that half the ears hear ticking"),
    "valves_tick_width_mm": Constant(0.05, "mm", "judgement"),
    "valves_spit_mm2": Constant(4.0, "mm2", "judgement: intake leak that spits back half the time"),
    "valves_spit_width_mm2": Constant(0.6, "mm2", "judgement"),
}
