"""Ignition: flywheel magnets, coil and its trigger, lead, plug, key, points, and the spark tester.

Which fault of the coverage list moves which parameter:
F001 plug_fouling_ohm, plug_deposit · F002 plug_flashover_kv (also plug_break_kv) · F003 plug_wrong, plug_heat_step,
plug_gap_mm · F004 boot_gap_mm, boot_loose · F005 lead_leak_ohm, lead_flashover_kv, lead_damage · F006 module_alive,
or primary_ohm / secondary_ohm open, or shorted_share 0.03-0.1 · F007 module_opens_c or hot_shorted_share ·
F008 shorted_share 0.005-0.03, trigger_current_a high, primary_joint_ohm · F009 air_gap_mm (wide, or rubbing:
low with rim_rub) · F010 coil_earth_ohm, coil_feet_rust · F011 magnet_strength, magnet_rust_mm · F017
points_dirt_ohm, points_gap_mm, condenser_uf, condenser_leak_ohm, points_burn · F018 key_damage, key_offset_deg ·
F019 flywheel_nut_share, flywheel_washer_wrong, flywheel_play (and key_damage) · F020 coil_reversed,
trigger_error_deg, wrong_coil · dead tester tester_alive · new part dead from the box new_plug_dead, new_coil_dead ·
lent part bad lent_plug_dead, lent_coil_dead.

Which check reads what: K02 lead_damage, boot_loose (eye) · K06 plug_gap_mm, plug_ohm, plug_insulation_ohm, with the
eye plug_deposit, plug_wrong · K08 K09 K13 K20 tester_margin (arrangement says stop-lead, drive, hot) · K10
air_gap_mm, with the eye coil_feet_rust, rim_rub, coil_reversed · K11 magnet_pull_mm · K12 start_chance with
lent-plug · K14 primary_meter_ohm, secondary_meter_ohm · K16 key_step_mm, with the eye key_damage · K17
flywheel_nut_share, flywheel_washer_wrong, flywheel_play (eye and hand) · K18 points_gap_mm, with the eye
points_burn; condenser_uf, condenser_leak_ohm · spark beside the plug hole is not offered; the free-air spark of a
plug (trap) is free_air_margin.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "ignition"
_J = "judgement"
_OPEN = 1e12


def _p(id: str, unit: str, low: float, high: float, healthy: Spread, meaning: str, source: str = _J) -> Parameter:
    return Parameter(id, unit, low, high, healthy, _S, meaning, source)


def _never(id: str, meaning: str) -> Parameter:
    return _p(id, "1", 0.0, 1.0, Spread("fixed", 0.0), meaning)


PARAMETERS: tuple[Parameter, ...] = (
    _p("air_gap_mm", "mm", 0.0, 4.0, Spread("uniform", 0.15, 0.40), "gap between coil legs and flywheel rim",
       "common practice: 0.006-0.016 in by design"),
    _never("rim_rub", "rub marks on the rim or the coil legs"),
    _p("magnet_strength", "1", 0.0, 1.5, Spread("normal", 1.0, 0.07, low=0.75), "magnets against nominal"),
    _p("magnet_rust_mm", "mm", 0.0, 1.5, Spread("uniform", 0.0, 0.10), "rust, paint or dirt that widens the gap"),
    _p("coil_earth_ohm", "ohm", 0.0, 1e6, Spread("log-normal", 0.03, 0.5), "joint between coil feet and engine"),
    _never("coil_feet_rust", "rust or paint under the coil feet, loose screws"),
    _p("primary_ohm", "ohm", 0.05, _OPEN, Spread("log-normal", 0.75, 0.25), "primary winding at 20 C",
       "service pages from memory: 0.18-1.5 ohm by design"),
    _p("primary_joint_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 0.02, 0.5), "bad joint inside the primary"),
    _p("secondary_ohm", "ohm", 500.0, _OPEN, Spread("log-normal", 8000.0, 0.25), "secondary winding at 20 C",
       "service pages from memory: 2.5-17 kohm by design"),
    _p("shorted_share", "1", 0.0, 1.0, Spread("fixed", 0.0), "share of the secondary turns that is shorted"),
    _p("hot_shorted_share", "1", 0.0, 1.0, Spread("fixed", 0.0), "share of turns that shorts only when hot"),
    _p("module_alive", "1", 0.0, 1.0, Spread("fixed", 1.0), "trigger works (1) or is dead (0)"),
    _p("module_opens_c", "C", 20.0, 300.0, Spread("normal", 190.0, 12.0), "coil temperature above which it gives out"),
    _p("trigger_current_a", "A", 0.5, 20.0, Spread("log-normal", 2.48, 0.08), "primary current at which it switches"),
    _p("trigger_family", "1", 0.0, 1.0, Spread("choice", values=(0.0, 0.0, 0.0, 1.0)),
       "0 switches at a current, 1 switches at an angle; not visible from outside"),
    _p("turns_ratio", "1", 40.0, 130.0, Spread("log-normal", 75.0, 0.07), "secondary turns over primary turns",
       "60 by a technical-manual theory page, 50-200 for coils in general (from memory)"),
    _p("secondary_pf", "1", 20.0, 200.0, Spread("log-normal", 50.0, 0.15), "capacitance of winding, lead and plug, pF"),
    _p("core_loss_mohm", "Mohm", 0.2, 20.0, Spread("log-normal", 2.5, 0.25), "core loss as a shunt on the secondary"),
    _p("trigger_error_deg", "deg", -90.0, 90.0, Spread("normal", 0.0, 1.0), "spark late by a wrong trigger, key aside"),
    _never("coil_reversed", "coil fitted back to front"),
    _never("wrong_coil", "coil is not the one listed for this engine"),
    _p("key_offset_deg", "deg", -180.0, 180.0, Spread("normal", 0.0, 0.7),
       "flywheel turned on the crank; above 0 = spark early, below 0 = late"),
    _never("key_damage", "flywheel key stepped (about 0.5) or sheared (1)"),
    _p("flywheel_nut_share", "1", 0.0, 2.0, Spread("normal", 1.0, 0.08), "flywheel nut torque over the maker's figure"),
    _never("flywheel_washer_wrong", "cone washer missing or upside down"),
    _never("flywheel_play", "flywheel moves on the crank by hand"),
    _p("lead_leak_ohm", "ohm", 1e3, _OPEN, Spread("log-normal", 2e9, 0.8), "leak from plug lead or boot to frame"),
    _p("lead_flashover_kv", "kV", 0.5, 80.0, Spread("log-normal", 38.0, 0.1),
       "voltage at which lead or coil flashes over"),
    _never("lead_damage", "plug lead chewed, cracked or burnt"),
    _p("boot_gap_mm", "mm", 0.0, 15.0, Spread("fixed", 0.0), "gap inside a loose, burnt or missing plug boot contact"),
    _never("boot_loose", "plug boot loose, off or burnt"),
    _p("plug_gap_mm", "mm", 0.0, 3.0, Spread("normal", 0.76, 0.05), "plug gap", "common practice: 0.030 in"),
    _p("plug_shape", "1", 0.5, 1.2, Spread("uniform", 0.82, 0.95), "voltage asked over that of a uniform field"),
    _p("plug_fouling_ohm", "ohm", 1.0, _OPEN, Spread("log-normal", 1e8, 0.8), "deposit across the insulator",
       "common practice: 10 Mohm or more is good"),
    _never("plug_deposit", "deposit seen on the plug nose"),
    _p("plug_resistor_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 5000.0, 0.15), "resistor in the plug",
       "common practice: 3-7.5 kohm"),
    _p("plug_break_kv", "kV", 0.0, 40.0, Spread("fixed", 0.0), "extra voltage to jump a break inside the plug"),
    _p("plug_flashover_kv", "kV", 0.5, 80.0, Spread("log-normal", 38.0, 0.1),
       "voltage at which the plug insulator flashes over inside"),
    _never("plug_wrong", "plug is not the one listed: reach, seat or heat range"),
    _p("plug_heat_step", "1", -4.0, 4.0, Spread("fixed", 0.0), "heat range against the listed plug, above 0 = hotter"),
    _p("points_gap_mm", "mm", 0.0, 1.5, Spread("normal", 0.50, 0.03), "points gap", "common practice: 0.020 in"),
    _p("points_dirt_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 0.05, 0.4),
       "contact resistance of the closed points"),
    _never("points_burn", "points burnt, pitted or dirty"),
    _p("condenser_uf", "uF", 0.0, 2.0, Spread("normal", 0.18, 0.015), "condenser", "common practice: 0.15-0.25 uF"),
    _p("condenser_leak_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 2e8, 0.8), "leak through the condenser"),
    _p("tester_alive", "1", 0.0, 1.0, Spread("fixed", 1.0), "the spark tester and its clip work"),
    _p("new_plug_dead", "1", 0.0, 1.0, Spread("fixed", 0.0), "the plug just fitted was bad from the box"),
    _p("new_coil_dead", "1", 0.0, 1.0, Spread("fixed", 0.0), "the coil just fitted was bad from the box"),
    _p("lent_plug_dead", "1", 0.0, 1.0, Spread("fixed", 0.0), "the shop's known good plug is bad"),
    _p("lent_coil_dead", "1", 0.0, 1.0, Spread("fixed", 0.0), "the shop's known good coil is bad or does not fit"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("rim_scrape", "1", "how much the rim is heard to scrape as it turns, 0 to 1", turning=True),
    Observable("tester_margin", "1",
               "open-circuit voltage at the tester over what the tester gap asks; lights above 1. "
               "Set-up: tester_gap_mm, tester_tip (share of the uniform-field voltage)", turning=True, brisk=True),
    Observable("tester_kv", "kV", "open-circuit peak voltage with the lead on the tester", turning=True),
    Observable("free_air_margin", "1", "voltage at a plug lying in free air over what its gap asks",
               turning=True, brisk=True),
    Observable("plug_spark_margin", "1", "voltage at the plug in the cylinder over what its gap asks at this drive",
               turning=True),
    Observable("spark_kv", "kV", "peak voltage that the plug could get", turning=True),
    Observable("spark_mj", "1", "energy stored at the break, mJ", turning=True),
    Observable("spark_btdc_deg", "deg", "spark before top dead centre, as a timing light shows it", turning=True),
    Observable("threshold_rpm", "rpm", "slowest speed at which the trigger fires (approximate)"),
    Observable("air_gap_mm", "mm", "coil gap by feeler"),
    Observable("magnet_pull_mm", "mm", "distance from which the magnets draw a screwdriver blade"),
    Observable("primary_meter_ohm", "ohm", "meter from stop tab to coil core, as arranged"),
    Observable("secondary_meter_ohm", "ohm", "meter from plug lead end to coil core"),
    Observable("plug_ohm", "ohm", "meter through the plug, terminal to tip"),
    Observable("plug_insulation_ohm", "ohm", "meter across the plug, tip to shell"),
    Observable("plug_gap_mm", "mm", "plug gap by feeler"),
    Observable("points_gap_mm", "mm", "points gap by feeler"),
    Observable("points_closed_ohm", "ohm", "meter across the closed points"),
    Observable("condenser_uf", "uF", "condenser on a meter"),
    Observable("condenser_leak_ohm", "ohm", "leak of the condenser on a meter"),
    Observable("key_step_mm", "mm", "step between the keyways of crank and flywheel"),
    Observable("flywheel_nut_share", "1", "torque at which the flywheel nut moves on over the maker's figure"),
    Observable("misfire_share", "1", "share of sparks that fail at running speed", running=True),
)

SIZES: tuple[Size, ...] = (
    Size("trigger", "1", "what switches the primary", "solid-state", ("solid-state", "points")),
    Size("primary_turns", "1", "turns of the primary", 120.0),
    Size("magnet_remanence_t", "1", "remanence of the magnets, tesla", 0.38),
    Size("rim_radius_mm", "mm", "radius of the magnet rim", 90.0),
    Size("taper_radius_mm", "mm", "radius of the crank taper at the keyway", 9.0),
)
