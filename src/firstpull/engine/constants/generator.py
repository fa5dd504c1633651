"""Constants of generators."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "build_up_v": Constant(1.5, "V", "a generator repair manual names about 1.5 V residual, second-hand"),
    "build_up_width": Constant(0.18, "1", "judgement: spread of the logarithm"),
    "full_field_share": Constant(1.45, "1", "judgement: volts at full field and right speed over nominal"),
    "field_speed_power": Constant(1.6, "1", "judgement: volts at full field against speed, field itself fed by it"),
    "brush_least_mm": Constant(3.0, "mm", "judgement: brush too short to be pressed on"),
    "brush_width_mm": Constant(0.4, "mm", "judgement"),
    "brush_ohm": Constant(0.8, "ohm", "judgement: both brushes on clean rings"),
    "capacitor_least": Constant(
        0.55, "1", "judgement: capacitance, times speed squared, below which it does not excite"
    ),
    "capacitor_width": Constant(0.05, "1", "judgement"),
    "capacitor_power": Constant(0.3, "1", "judgement: volts against capacitance, iron nearly saturated"),
    "capacitor_high": Constant(0.985, "1", "judgement: no-load volts of a sound capacitor set over nominal"),
    "inverter_least_speed": Constant(0.5, "1", "judgement: speed over rated below which an inverter gives up"),
    "open_ohm": Constant(1.0e6, "ohm", "convention of this engine: an open circuit on an ohmmeter"),
    "usual_insulation_mohm": Constant(100.0, "Mohm", "judgement: dry sound windings to frame"),
    "dead_share": Constant(0.4, "1", "judgement: volts over nominal below which people say there is no electricity"),
    "harm_share": Constant(1.12, "1", "judgement: volts over nominal that harm what is plugged in"),
    "rotor_low_share": Constant(0.93, "1", "judgement: rotor turns below which the field fades"),
}
