"""Constants of the blade brake."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "windage_nms2": Constant(4.5e-6, "N.m.s2", "judgement: air drag of a mower blade over speed squared"),
    "engine_coast_nm": Constant(1.3, "N.m", "judgement: friction and compression of an engine coasting to a stop"),
    "pad_wear_loss": Constant(0.85, "1", "judgement: brake torque that a worn-out lining loses"),
    "oil_loss": Constant(0.75, "1", "judgement: brake torque that oil takes away"),
    "slack_free_mm": Constant(9.0, "mm", "judgement: cable slack at which the brake stays half on"),
    "slack_width_mm": Constant(1.3, "mm", "judgement"),
    "loose_coast": Constant(2.5, "1", "judgement: a blade loose on its shaft turns on by this much longer"),
    "runs_on_s": Constant(5.0, "s", "judgement: stop time that half of the people would call running on"),
    "spindle_nm": Constant(0.3, "N.m", "judgement: friction of a blade spindle alone"),
}
