"""Constants of magneto, coil, trigger and breakdown. Fitted ones say to what."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

_FE = "judgement: fitted to a plane finite-element field of one two-leg core (linear iron), which is not kept"
_DECK = "judgement: fitted to four runs of the transistor-level circuit of tests/outside/test_ignition_circuit.py"
_LAW = "Bazelyan, Raizer, Spark Discharge (1998), quoted second-hand"

CONSTANTS: dict[str, Constant] = {
    "breakdown_per_cm_kv": Constant(24.22, "kV", _LAW),
    "breakdown_per_root_cm_kv": Constant(6.08, "kV", _LAW),
    "paschen_minimum_kv": Constant(0.327, "kV", "tabulated Paschen minimum of air, second-hand"),
    "spark_scatter": Constant(0.06, "1", "judgement: one breakdown against the next, 5-8 %"),
    "magnet_length_mm": Constant(19.0, "mm", "judgement: two ceramic magnets of 3/8 in"),
    "magnet_area_mm2": Constant(360.0, "mm2", "judgement"),
    "magnet_recoil": Constant(1.05, "1", "from memory: recoil permeability of ferrite 1.05-1.1"),
    "magnet_leak_nwb": Constant(19.3, "1", _FE + ", nWb/A"),
    "core_reluctance": Constant(3.0e5, "1", _FE + ", A/Wb"),
    "coil_leak_nwb": Constant(80.0, "1", _FE + ", nWb/A"),
    "pole_width_mm": Constant(12.0, "mm", "judgement"),
    "pole_depth_mm": Constant(20.0, "mm", "judgement"),
    "lobe_reversed": Constant(0.30, "1", _FE),
    "edge_deg": Constant(9.12, "deg", _FE + ", rim radius 90 mm"),
    "edge_width_deg": Constant(2.24, "deg", _FE + ", rim radius 90 mm"),
    "outer_edge_deg": Constant(30.4, "deg", _FE + ", rim radius 90 mm"),
    "outer_width_deg": Constant(6.19, "deg", _FE + ", rim radius 90 mm"),
    "trigger_on_v": Constant(1.476, "V", _DECK),
    "trigger_on_ohm": Constant(0.398, "ohm", _DECK),
    "trigger_delay_ms": Constant(0.149, "ms", _DECK),
    "current_break_deg": Constant(-9.2, "deg", _DECK + "; break of a nominal machine at 600 rpm, rim radius 90 mm"),
    "angle_trigger_widths": Constant(1.5, "1", "judgement: break this many edge widths after the steepest point"),
    "angle_trigger_least_a": Constant(0.5, "A", "judgement: current an angle trigger needs to hold on"),
    "points_deg_per_mm": Constant(30.0, "deg", "judgement: 0.1 mm of points gap moves the spark about 3 degrees"),
    "points_arc_uf": Constant(0.02, "uF", "judgement: condenser at which half of the break is lost in the arc"),
    "coupling_loss": Constant(0.025, "1", "judgement: 0.01-0.05 of the flux does not link both windings"),
    "snubber_nf": Constant(22.0, "nF", "judgement: 0-220 nF"),
    "base_ohm": Constant(1200.0, "ohm", "judgement: base resistor of the deck"),
    "hold_on_ohm": Constant(22000.0, "ohm", "judgement: hold-on resistor of the deck"),
    "clamp_v": Constant(350.0, "V", "judgement: 300-450 V transistors"),
    "clamp_leaves": Constant(0.5, "1", _DECK + "; share of the voltage above the clamp that still arrives"),
    "plug_pf": Constant(10.0, "1", "judgement: capacitance of the plug itself, pF"),
    "copper_per_k": Constant(0.0039, "1", "copper, 0.39 % a kelvin, any handbook of physics"),
    "magnet_per_k": Constant(-0.002, "1", "from memory: remanence of ferrite -0.2 % a kelvin"),
    "junction_per_k": Constant(-0.0033, "1", "judgement: trigger current follows -2 mV/K of 0.6 V"),
    "coil_hot_rise_k": Constant(62.0, "K", "judgement: coil over air after 15 minutes of work and a short soak"),
    "coil_open_width_k": Constant(0.8, "K", "judgement: how sharply a module gives out at its temperature"),
    "tester_gap_mm": Constant(4.2, "mm", "common practice: 0.166 in"),
    "tester_tip": Constant(0.75, "1", "judgement: tips of a tester ask 0.5-0.95 of a uniform field; about 10 kV"),
    "magnet_pull_nominal_mm": Constant(19.0, "mm", "from memory: a screwdriver is drawn from about 3/4 in"),
    "run_spark_idle_kpa": Constant(270.0, "kPa", "judgement: charge at the spark, running with no load"),
    "run_spark_full_kpa": Constant(1050.0, "kPa", "judgement: charge at the spark, full load"),
    "run_spark_idle_k": Constant(520.0, "K", "judgement"),
    "run_spark_full_k": Constant(640.0, "K", "judgement"),
}
