"""Constants of electric starting."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "cranking_nm": Constant(8.0, "N.m", "judgement: mean torque to crank a sound engine past compression"),
    "starter_efficiency": Constant(0.8, "1", "judgement: gear and bearings"),
    "starter_drag_nm": Constant(12.0, "N.m", "judgement: a starter that is stuck, at the crank"),
    "battery_low_gain": Constant(1.8, "1", "judgement: how much inner resistance rises as a battery empties"),
    "dead_cell_v": Constant(2.1, "V", "one lead-acid cell, textbook"),
    "dead_cell_ohm": Constant(0.12, "ohm", "judgement"),
    "solenoid_hold_v": Constant(6.5, "V", "judgement: posts below which a solenoid does not pull in"),
    "slow_crank_rpm": Constant(230.0, "rpm", "judgement: what people call cranking slowly"),
    "brush_worn_ohm": Constant(0.6, "ohm", "judgement: contact resistance of worn starter brushes"),
}
