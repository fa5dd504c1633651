"""Constants of cooling."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "cooling_heat_share": Constant(0.875, "1", "judgement: heat into the head over rated power, full load"),
    "cooling_idle_share": Constant(0.45, "1", "judgement: heat at no load and full speed over full load"),
    "cooling_first_minute": Constant(0.22, "1", "judgement: share of the rise after the first minute"),
    "cooling_smell_c": Constant(280.0, "C", "judgement: head at which half the owners smell it"),
    "cooling_smell_width_c": Constant(12.0, "C", "judgement"),
    "cooling_fade_c": Constant(320.0, "C", "judgement: head at which half the torque is gone"),
    "cooling_fade_most": Constant(0.6, "1", "judgement: torque that heat alone takes at most"),
    "cooling_fade_width_c": Constant(25.0, "C", "judgement"),
    "cooling_dry_oil_c": Constant(35.0, "C", "judgement: warmer with hardly any oil"),
}
