"""Compression as predicted for machines in an arrangement."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import needed, predict
from firstpull.engine.vocabulary.types import DRIVES, THERMALS, Arrangement, Conditions, Setup
from tests.engine.cylinders import AS_BROUGHT, GAUGE, PULLED, TWO_STROKE, population, shown

PSI = 6.894757


def test_a_healthy_population_reads_what_benches_call_usual() -> None:
    # Common practice, no primary source: 60 psi still starts, 80-140 typical; a release lowers the reading.
    read = predict(population(1500), {}, Conditions(), GAUGE, Setup(), ["compression_kpa"])["compression_kpa"] / PSI
    low, middle, high = np.percentile(read, [5, 50, 95])
    assert 60.0 < low < middle < high < 160.0
    assert 80.0 < middle < 140.0


@pytest.mark.parametrize(("parameter", "values"), [
    ("ring_leak_mm2", [0.1, 0.6, 1.5, 4.0]), ("intake_valve_leak_mm2", [0.0, 0.4, 2.0]),
    ("exhaust_valve_leak_mm2", [0.0, 0.4, 2.0]), ("head_gasket_edge_leak_mm2", [0.0, 1.0, 5.0]),
    ("head_gasket_gallery_leak_mm2", [0.0, 1.0, 5.0]), ("exhaust_lash_mm", [0.1, 0.0, -0.03, -0.08]),
    ("exhaust_hang_mm", [0.0, 0.5, 3.0]), ("intake_hang_mm", [0.0, 0.5, 3.0]), ("piston_score", [0.0, 0.5, 1.0]),
    ("bore_wear_mm", [0.0, 0.2, 0.5]), ("head_bolts_loose", [0.0, 0.6, 1.0]), ("head_warp_mm", [0.0, 0.2, 0.6]),
    ("valve_seat_loose", [0.0, 0.5, 1.0]), ("foreign_object_damage", [0.0, 0.5, 1.0]), ("rod_broken", [0.0, 1.0]),
    ("release_stuck_on", [0.0, 1.0]), ("intake_lift_share", [1.0, 0.1, 0.0]), ("cam_timing_error_deg", [0.0, 30.0]),
])  # fmt: skip
def test_every_fault_of_compression_lowers_the_gauge(parameter: str, values: list[float]) -> None:
    read = shown("compression_kpa", GAUGE, {parameter: values})
    assert (np.diff(read) < 0.0).all()
    assert read[-1] < 0.93 * read[0]


@pytest.mark.parametrize(("parameter", "values"), [
    ("exhaust_lash_mm", [0.15, 0.3, 0.5]), ("release_lift_share", [1.0, 0.5, 0.0]), ("combustion_carbon", [0.2, 0.9]),
])  # fmt: skip
def test_a_lost_release_and_a_crust_raise_it(parameter: str, values: list[float]) -> None:
    assert (np.diff(shown("compression_kpa", GAUGE, {parameter: values})) > 0.0).all()


def test_oil_helps_worn_rings_far_more_than_burnt_valves() -> None:
    worn = shown("compression_gain_kpa", GAUGE, {"ring_leak_mm2": 1.2})[0]
    burnt = shown("compression_gain_kpa", GAUGE, {"exhaust_valve_leak_mm2": 1.2})[0]
    healthy = shown("compression_gain_kpa", GAUGE)[0]
    assert worn > 1.4 * healthy > 1.2 * burnt
    assert burnt > 0.0


def test_the_wet_reading_is_the_dry_one_and_the_gain() -> None:
    wet_arrangement = replace(GAUGE, added=GAUGE.added | {"oil-in-cylinder"})
    wet, dry = shown("compression_kpa", wet_arrangement), shown("compression_kpa", GAUGE)
    assert wet - dry == pytest.approx(shown("compression_gain_kpa", GAUGE))
    assert shown("compression_gain_kpa", wet_arrangement) == pytest.approx(shown("compression_gain_kpa", GAUGE))


def test_altitude_hose_and_valve_place_lower_the_reading() -> None:
    plain = shown("compression_kpa", GAUGE)[0]
    high = shown("compression_kpa", GAUGE, conditions=Conditions(altitude_m=1500.0))[0]
    hose = shown("compression_kpa", GAUGE, setup={"gauge_valve_at_plug": 0.0, "gauge_hose_cm3": 8.0})[0]
    few = shown("compression_kpa", GAUGE, setup={"gauge_pulls": 1.0, "gauge_hose_cm3": 20.0})[0]
    assert 0.78 < high / plain < 0.85
    assert hose < 0.85 * plain
    assert few < 0.75 * plain


def test_a_lazy_pull_reads_less() -> None:
    assert shown("compression_kpa", replace(GAUGE, drive="lazy-rope"))[0] < shown("compression_kpa", GAUGE)[0]


def test_nothing_is_read_when_nothing_turns() -> None:
    assert np.isnan(shown("compression_kpa", replace(GAUGE, drive="none"))).all()


def test_with_the_plug_out_there_is_no_bump_and_an_easy_rope() -> None:
    assert shown("compression_firmness", GAUGE)[0] < 0.05
    assert shown("compression_firmness", PULLED)[0] > 0.9
    assert shown("pull_effort_n", GAUGE)[0] < 0.6 * shown("pull_effort_n", PULLED)[0]


def test_a_lost_release_makes_a_hard_pull_and_a_broken_rod_an_easy_one() -> None:
    hard = shown("hard_pull", AS_BROUGHT, {"release_lift_share": [1.0, 0.0]})
    easy = shown("easy_pull", AS_BROUGHT, {"rod_broken": [0.0, 1.0]})
    assert hard[0] < 0.1 < 0.9 < hard[1]
    assert easy[0] < 0.05 < 0.9 < easy[1]


@pytest.mark.parametrize("what", ["fuel", "oil", "water"])
def test_a_full_cylinder_locks_and_lets_go_with_the_plug_out(what: str) -> None:
    full = {f"cylinder_{what}_cm3": [0.0, 60.0]}
    locked = shown("crank_locked", PULLED, full)
    assert locked[0] < 0.05 < 0.95 < locked[1]
    assert shown("crank_locked", GAUGE, full)[1] < 0.05
    assert shown(f"spat_{what}_cm3", GAUGE, full).tolist() == [0.0, 60.0]


def test_a_seized_engine_stays_locked_with_the_plug_out() -> None:
    for arrangement in (PULLED, GAUGE):
        assert shown("crank_locked", arrangement, {"seizure": 0.9})[0] > 0.95


def test_a_hand_decompression_valve_leaks_only_where_there_is_one() -> None:
    leak = {"decompression_valve_leak_mm2": [0.0, 2.0]}
    without = shown("compression_kpa", GAUGE, leak, TWO_STROKE)
    with_valve = shown("compression_kpa", GAUGE, leak, TWO_STROKE | {"compression_release": "hand-valve"})
    assert without[0] == without[1]
    assert with_valve[1] < 0.8 * with_valve[0]


def test_valves_do_not_matter_to_an_engine_with_ports() -> None:
    read = shown("compression_kpa", GAUGE, {"exhaust_valve_leak_mm2": [0.0, 5.0]}, TWO_STROKE)
    assert read[0] == read[1]


def test_the_charge_at_the_spark_lies_between_ambient_and_peak() -> None:
    found = predict(
        population(300),
        {},
        Conditions(),
        PULLED,
        Setup(),
        ["spark_pressure_kpa", "peak_pressure_kpa", "spark_temperature_k"],
    )
    assert (found["spark_pressure_kpa"] > 95.0).all()
    assert (found["spark_pressure_kpa"] <= found["peak_pressure_kpa"] + 1e-9).all()
    assert ((found["spark_temperature_k"] > 280.0) & (found["spark_temperature_k"] < 700.0)).all()


def test_the_gauge_needs_the_leaks_and_not_the_fuel() -> None:
    asked, _ = needed({}, GAUGE, ["compression_kpa"])
    assert {"ring_leak_mm2", "exhaust_lash_mm", "release_lift_share"} <= asked
    assert not {"fuel_age_d", "main_jet_open"} & asked


def test_a_whole_day_of_arrangements_gives_numbers() -> None:
    params = population(40)
    for drive in DRIVES:
        for thermal in THERMALS:
            arrangement = Arrangement(drive=drive, thermal=thermal)
            found = predict(params, {}, Conditions(), arrangement, Setup(), ["peak_pressure_kpa", "pull_effort_n"])
            assert all(np.isfinite(values).all() for values in found.values())


def test_what_jams_the_tool_locks_the_crank_and_a_brake_only_stiffens_it() -> None:
    def locked(jam: float, arrangement: Arrangement = PULLED) -> float:
        params = {"object_jammed": np.array([jam])}
        return float(predict(params, {}, Conditions(), arrangement, Setup(), ["crank_locked"])["crank_locked"][0])

    assert locked(0.0) < 0.01
    assert locked(1.0) > 0.99
    assert locked(0.0, replace(PULLED, added=frozenset())) < 0.3
    assert locked(1.0, replace(PULLED, off=frozenset({"load"}))) < 0.01
