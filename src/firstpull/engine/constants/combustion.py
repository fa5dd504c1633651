"""Constants of the burn."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "combustion_burn_deg": Constant(55.0, "deg", "judgement: spark to burnt out, chemically right, 3000 rpm"),
    "combustion_wall_w_m2k": Constant(900.0, "W/(m2 K)", "judgement: mean coefficient of a fired cycle"),
    "combustion_friction_share": Constant(1.15, "1", "judgement: friction of an air-cooled single over the formula"),
    "combustion_indicated_kpa": Constant(860.0, "kPa", "judgement: full-throttle mean effective pressure, ratio 8.5"),
    "combustion_no_power_share": Constant(0.72, "1", "judgement: power share at which half the owners complain"),
    "combustion_no_power_width": Constant(0.06, "1", "judgement"),
    "combustion_ping_margin": Constant(10.0, "deg", "judgement: advance beyond best that pings on a carboned head"),
    "combustion_after_fire": Constant(0.32, "1", "judgement: late burn and rich idle at which half bang"),
    "combustion_after_fire_width": Constant(0.07, "1", "judgement"),
    "combustion_run_on_head_c": Constant(305.0, "C", "judgement: clean head that runs on half the time"),
    "combustion_run_on_width_c": Constant(18.0, "C", "judgement"),
    "combustion_run_on_carbon_c": Constant(70.0, "C", "judgement: how much a crust lowers that"),
}
