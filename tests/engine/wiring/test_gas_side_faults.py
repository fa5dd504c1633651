"""Every fault of compression, valves, crankcase, oil, cooling and exhaust shows at some check that is there for it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import pytest

from firstpull.engine.vocabulary.types import Arrangement
from tests.engine.cylinders import AS_BROUGHT, AT_WORK, GAUGE, HELD, PULLED, TESTER, TWO_STROKE, shown

SAW = TWO_STROKE | {"compression_release": "hand-valve"}
PLATES = Arrangement(off=frozenset({"plug-lead", "muffler", "carburettor"}), added=frozenset({"ports-blocked"}))
OPEN = Arrangement(off=frozenset({"rocker-cover", "plug-lead", "plug"}))
FULL = replace(AT_WORK, load="full")
HOT = replace(GAUGE, thermal="hot")
STARTING = Arrangement(added=HELD, drive="rope", choke="closed")


@dataclass(frozen=True)
class Case:
    """What a fault moves, where it is looked for, and by how much it must differ from a healthy machine."""

    name: str
    moves: dict[str, float]
    shows: str
    where: Arrangement
    least: float
    sizes: dict[str, float | str] = field(default_factory=dict)


CASES = (
    Case("crank seal of a two-stroke", {"seal_pto_leak_mm2": 0.1}, "crankcase_pressure_hold_kpa", PLATES, -20.0, SAW),
    Case("crankcase gasket", {"case_gasket_leak_mm2": 0.1}, "bubbles_case_gasket", PLATES, 100.0, SAW),
    Case("reed gummed", {"reed_leak_mm2": 20.0}, "reed_spit_back", AS_BROUGHT, 0.8, SAW),
    Case("decompression valve", {"decompression_valve_leak_mm2": 1.5}, "compression_kpa", GAUGE, -100.0, SAW),
    Case("rings", {"ring_leak_mm2": 1.2}, "leakdown_percent", TESTER, 60.0),
    Case("rings, wet", {"ring_leak_mm2": 2.0}, "compression_gain_kpa", GAUGE, 60.0),
    Case("burnt intake valve", {"intake_valve_leak_mm2": 0.8}, "hiss_carburettor_excess", TESTER, 5.0),
    Case("burnt exhaust valve", {"exhaust_valve_leak_mm2": 0.8}, "hiss_muffler_excess", TESTER, 5.0),
    Case("valve stuck open", {"exhaust_hang_mm": 2.0}, "exhaust_lift_seen_mm", OPEN, -1.5),
    Case("valve that sticks hot", {"exhaust_hang_hot_mm": 1.5}, "compression_kpa", HOT, -300.0),
    Case("valve seat loose", {"valve_seat_loose": 0.6}, "leakdown_percent", replace(TESTER, thermal="hot"), 30.0),
    Case("lash too small", {"exhaust_lash_mm": -0.03}, "exhaust_lash_now_mm", OPEN, -0.1),
    Case("lash too large", {"exhaust_lash_mm": 0.5}, "pull_effort_n", PULLED, 60.0),
    Case("release broken", {"release_lift_share": 0.0}, "release_lift_mm", OPEN, -0.25),
    Case("release stuck", {"release_stuck_on": 1.0}, "compression_kpa", GAUGE, -300.0),
    Case("pushrod off", {"intake_lift_share": 0.0}, "intake_lift_seen_mm", OPEN, -3.0),
    Case("gasket to the outside", {"head_gasket_edge_leak_mm2": 1.5}, "hiss_head_edge_excess", TESTER, 10.0),
    Case("gasket to the gallery", {"head_gasket_gallery_leak_mm2": 1.5}, "hiss_pushrod_excess", TESTER, 10.0),
    Case("head bolts loose", {"head_bolts_loose": 0.9}, "hiss_head_edge_excess", TESTER, 5.0),
    Case("head warped", {"head_warp_mm": 0.4}, "leakdown_percent", TESTER, 30.0),
    Case("cam out of step", {"cam_timing_error_deg": 35.0}, "backfire_chance", AS_BROUGHT, 0.8),
    Case("breather stuck", {"breather_blocked": 0.9}, "crankcase_vacuum_kpa", AT_WORK, -2.0),
    Case("oil overfilled", {"oil_level_mm": 18.0}, "blue_smoke", AT_WORK, 0.7),
    Case("oil low", {"oil_level_mm": -40.0}, "squeal", AT_WORK, 0.7),
    Case("oil diluted", {"oil_fuel_share": 0.35}, "oil_film_share", AS_BROUGHT, -0.3),
    Case("seized", {"seizure": 0.9}, "crank_locked", GAUGE, 0.9),
    Case("water in the oil", {"oil_water_share": 0.15}, "white_smoke", AT_WORK, 0.8),
    Case("hydraulic lock", {"cylinder_fuel_cm3": 60.0}, "crank_locked", PULLED, 0.9),
    Case("hydraulic lock, plug out", {"cylinder_oil_cm3": 60.0}, "spat_oil_cm3", GAUGE, 50.0),
    Case("foreign object", {"foreign_object_damage": 0.9}, "rattle", AT_WORK, 0.8),
    Case("big end worn", {"rod_play_mm": 0.7}, "rod_knock", AT_WORK, 0.8),
    Case("piston scored", {"piston_score": 0.8, "ring_leak_mm2": 2.0}, "compression_kpa", GAUGE, -200.0, SAW),
    Case("muffler blocked", {"muffler_blockage": 0.85}, "engine_power_share", FULL, -0.25),
    Case("screen blocked", {"screen_blockage": 0.95}, "exhaust_puff", PULLED, -0.3),
    Case("port carbon", {"port_carbon": 0.85}, "exhaust_backpressure_kpa", FULL, 10.0, SAW),
    Case("muffler cracked", {"muffler_leak": 0.9}, "exhaust_bark", AT_WORK, 0.8),
    Case("fins packed", {"fin_blockage": 0.7}, "head_c", AT_WORK, 60.0),
    Case("carbon on the piston", {"combustion_carbon": 1.0}, "compression_kpa", GAUGE, 20.0),
    Case("oil burning off", {"muffler_oil_cm3": 10.0}, "white_smoke", replace(AT_WORK, thermal="cold"), 0.8),
    Case("key sheared, early", {"key_offset_deg": 30.0}, "kick", STARTING, 0.4),
    Case("blade loose", {"blade_loose": 1.0}, "kick", STARTING, 0.3),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_fault_shows_where_it_is_looked_for(case: Case) -> None:
    healthy = shown(case.shows, case.where, None, case.sizes)[0]
    faulty = shown(case.shows, case.where, case.moves, case.sizes)[0]
    assert (faulty - healthy) * (1.0 if case.least > 0.0 else -1.0) >= abs(case.least)
