"""Constants of fuel supply and fuel quality."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "fuel_density_kg_m3": Constant(735.0, "kg/m3", "petrol about 720-775 kg/m3, from memory"),
    "needle_loss_share": Constant(0.45, "1", "judgement: share of the feed's flow loss that is the inlet itself"),
    "hose_loss_share": Constant(0.10, "1", "judgement"),
    "filter_loss_share": Constant(0.17, "1", "judgement"),
    "tap_loss_share": Constant(0.16, "1", "judgement"),
    "pickup_loss_share": Constant(0.12, "1", "judgement"),
    "vent_discharge": Constant(0.6, "1", "sharp-edged hole, about 0.6, textbook"),
    "idle_fuel_share": Constant(0.35, "1", "from memory of data sheets: a governed engine drinks a third at no load"),
    "half_fuel_share": Constant(0.6, "1", "judgement: fuel at half load over fuel at full load"),
    "pump_reserve": Constant(6.0, "1", "judgement: what a pulse pump can move over what full load draws"),
    "gravity_swallow": Constant(1.15, "1", "judgement: supply over demand below which the level falls"),
    "bowl_stands_min": Constant(360.0, "1", "judgement: minutes from one day's try to the next that day"),
    "pulls_pump_min": Constant(0.3, "1", "judgement: minutes of pulling and priming before one gives up"),
    "jet_edge": Constant(0.1, "1", "judgement: share of the bowl over which its jet comes to breathe air"),
    "vapour_lock_width_kpa": Constant(9.0, "kPa", "judgement"),
    "hot_fuel_rise_k": Constant(20.0, "K", "judgement: fuel at the carburettor over air, hot soaked"),
    "unshielded_rise_k": Constant(30.0, "K", "judgement: the same added without shield or spacer"),
    "vapour_pressure_slope": Constant(0.032, "1/K", "petrol vapour pressure about +3.3 % a kelvin, from memory"),
    "breathing_loss_per_day": Constant(
        0.0004, "1/d", "judgement: half a litre of head space breathing 10 K loses 0.04 % of the fuel a day"
    ),
    "tank_loss_g_day": Constant(0.4, "1", "judgement: what goes through tank wall, hose and cap, g/d"),
    "tank_fill_share": Constant(0.6, "1", "judgement: how full a tank stands on the average"),
    "in_use_d": Constant(30.0, "d", "judgement: fuel younger than this is in use, its bowl changed every week"),
    "bowl_dries_d": Constant(130.0, "d", "judgement: days in which a bowl loses to its vent as much as it holds"),
    "evaporation_reached_cold": Constant(0.66, "1", "judgement: share of equilibrium reached in a few cold pulls"),
    "evaporation_reached_hot": Constant(0.95, "1", "judgement"),
    "smell_age_d": Constant(150.0, "d", "judgement: age at which half of the noses call it stale"),
    "cap_recovery": Constant(0.92, "1", "judgement: it restarts at once with the cap loose, if the vent was the cause"),
    "unending_s": Constant(3600.0, "s", "convention of this engine: did not stop within an hour"),
    "crossed_left": Constant(0.03, "1", "judgement: flow left with the lines on the wrong fittings"),
    "torn_left": Constant(0.03, "1", "judgement: flow left with a torn pump diaphragm"),
    "covered_left": Constant(0.05, "1", "judgement: pulse left under a turned gasket"),
    "hose_drip_ml_min": Constant(30.0, "mL/min", "judgement: drip of a hose split through"),
    "gasket_drip_ml_min": Constant(12.0, "mL/min", "judgement: drip of a bowl gasket that runs"),
    "overflow_outside": Constant(0.6, "1", "judgement: share of the needle's leak that reaches the ground"),
    "lock_start_loss": Constant(0.9, "1", "judgement: how far boiling fuel keeps a hot start from its fuel"),
    "water_at_jet": Constant(0.06, "1", "judgement: share of water that sooner or later stands at the jet"),
    "boils_hot_s": Constant(90.0, "s", "judgement: a hot-soaked engine with boiling fuel dies after this"),
    "warms_up_s": Constant(900.0, "s", "judgement: time to become hot; what fails hot fails then"),
    "fails_hot_s": Constant(120.0, "s", "judgement: what fails hot, on an engine that is hot already"),
    "choke_off_s": Constant(3.0, "s", "judgement: an engine that does not burn with the choke open dies after this"),
    "bowl_drawn_share": Constant(0.8, "1", "judgement: share of a bowl that can be drawn down before it dies"),
}
