"""Constants of cooling."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "cooling_heat_share": Constant(0.28, "1", "judgement: share of the fuel's heat that goes into head and barrel"),
    "cooling_fuel_kg_per_kwh": Constant(0.40, "kg/kWh", "judgement: fuel an hour a kilowatt of a small engine"),
    "cooling_idle_share": Constant(0.30, "1", "judgement: fuel at no load over full load"),
    "cooling_smell_c": Constant(255.0, "C", "judgement: head at which half the owners smell it"),
    "cooling_smell_width_c": Constant(15.0, "C", "judgement"),
    "cooling_fade_c": Constant(300.0, "C", "judgement: head at which half the torque is gone"),
    "cooling_fade_width_c": Constant(25.0, "C", "judgement"),
    "cooling_dry_oil_c": Constant(35.0, "C", "judgement: warmer with hardly any oil"),
}
