"""Constants of float and diaphragm carburettors."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "venturi_pa": Constant(2000.0, "Pa", "judgement: venturi suction at rated flow"),
    "idle_hole_pa": Constant(300.0, "Pa", "judgement: suction that lifts fuel at the idle and transfer holes"),
    "lift_mm": Constant(8.0, "mm", "judgement: height from fuel level to nozzle, 5-10 mm"),
    "choke_closed_ratio": Constant(3.26, "1", "judgement: a closed choke makes about AFR 4 out of AFR 13"),
    "choke_power": Constant(2.0, "1", "judgement: how late enrichment comes as the choke closes"),
    "main_leak_share": Constant(0.236, "1", "judgement: leak that halves the mixture at load, over the throat area"),
    "idle_leak_share": Constant(0.0354, "1", "judgement: leak that halves the mixture at idle, over the throat area"),
    "bleed_gain": Constant(0.35, "1", "judgement: richer by this when the air bleed is stopped"),
    "dirt_gain": Constant(0.35, "1", "judgement: share of the jet that a bowl full of dirt closes on the average"),
    "gum_idle_gain": Constant(1.3, "1", "judgement: varnish closes the small idle holes sooner than the main jet"),
    "main_screw_gain": Constant(0.35, "1", "judgement: change of mixture per turn of the main screw"),
    "idle_screw_gain": Constant(0.25, "1", "judgement: change of mixture per turn of the idle screw"),
    "overflow_main_phi": Constant(0.7, "1", "judgement: raw fuel over the nozzle with the needle wide open, at load"),
    "overflow_idle_phi": Constant(1.2, "1", "judgement: the same at idle"),
    "stiffness_power": Constant(0.3, "1", "judgement: a stiff diaphragm opens the inlet less"),
    "lever_gain": Constant(0.45, "1/mm", "judgement: change of mixture for each millimetre of lever height"),
    "wrong_order_loss": Constant(0.62, "1", "judgement: mixture lost with gasket and diaphragm in the wrong order"),
    "shaft_leak_mm2": Constant(7.0, "mm2", "judgement: 0.3 mm of play at both ends of an 8 mm shaft"),
    "plate_leak_mm2": Constant(3.0, "mm2", "judgement: air past a loose or askew throttle plate"),
    "needle_drip_ml_min": Constant(45.0, "mL/min", "judgement: fuel past a needle that is wide open, bowl below it"),
    "needle_half_leak": Constant(0.05, "1", "judgement: leak that halves a test pressure in half a minute"),
    "icing_warmest_c": Constant(10.0, "C", "judgement: carburettor ice is a matter of -5 to +10 C damp air"),
    "icing_coldest_c": Constant(-5.0, "C", "judgement"),
    "icing_s": Constant(420.0, "s", "judgement: time in which ice closes a throat that ices readily"),
    "sunk_overflow": Constant(0.85, "1", "judgement: a sunk float as an open needle"),
    "sunk_drip": Constant(0.7, "1", "judgement: the same, for what drips"),
    "stuck_pop_off_kpa": Constant(160.0, "kPa", "judgement: what a stuck needle adds to its opening pressure"),
}
