"""Constants of the stop circuit."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "control_step_width": Constant(0.015, "1", "judgement: how sharply a switch changes over its travel"),
    "low_oil_trip_mm": Constant(-16.0, "mm", "judgement: oil level, from the full mark, at which the switch closes"),
    "low_oil_width_mm": Constant(0.5, "mm", "judgement"),
    "cut_ohm": Constant(35.0, "ohm", "judgement: a leak below this kills a cranking spark in the cylinder"),
    "cable_free_play_mm": Constant(6.0, "mm", "judgement: cable slack that costs the switch no travel"),
    "cable_stroke_mm": Constant(20.0, "mm", "judgement: cable stroke that moves the switch"),
}
