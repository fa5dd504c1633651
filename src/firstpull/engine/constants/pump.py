"""Constants of water pumps."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "pump_vacuum_kpa": Constant(68.0, "kPa", "a pump maker's table, second-hand: about 20 inHg at speed"),
    "pump_lift_kpa": Constant(25.0, "kPa", "judgement: suction that the usual lift asks for"),
    "pump_leak_half_mm2": Constant(3.0, "mm2", "judgement: air leak that halves the suction"),
    "impeller_wear_loss": Constant(0.8, "1", "judgement: pumping lost by wear"),
    "prime_limit_s": Constant(600.0, "s", "convention of this engine: did not prime in ten minutes"),
}
