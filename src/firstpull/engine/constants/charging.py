"""Constants of charging."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "regulated_v": Constant(14.2, "V", "13.5-14.7 V, common practice"),
    "charging_ohm": Constant(0.9, "ohm", "judgement: inner resistance of coil and diode against the battery"),
    "diode_drop_v": Constant(0.9, "V", "silicon under load, textbook"),
    "half_wave_share": Constant(0.45, "1", "mean of a half wave over its effective value, sqrt(2)/pi, textbook"),
    "full_wave_share": Constant(0.9, "1", "mean of a full wave over its effective value, textbook"),
    "battery_acceptance_ohm": Constant(0.45, "ohm", "judgement: rise of the posts for each ampere of charging"),
    "drain_flat_ma": Constant(25.0, "mA", "judgement: drain that flattens a small battery in weeks"),
}
