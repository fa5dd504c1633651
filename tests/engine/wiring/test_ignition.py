"""What the tester, the plug and the meters show on whole machines."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.base.draws import uniform
from firstpull.base.spread import Spread
from firstpull.engine import constants
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from tests.engine.healthy_mowers import AT_TESTER, HELD, LEAD_OFF, PULLED, RUNNING, by, lit, shown, warm, with_fault

STILL = Arrangement(added=HELD)


def test_a_healthy_mower_lights_the_tester_by_a_usual_pull() -> None:
    assert lit() > 0.99
    assert lit(None, by("drill")) > 0.99


def test_a_shorted_stop_lead_is_dark_until_the_lead_is_unplugged() -> None:
    fault = with_fault(stop_lead_ohm=Spread("log-uniform", 0.05, 2.0))
    assert lit(fault) == 0.0
    assert lit(fault, LEAD_OFF) > 0.99


def test_a_dead_coil_is_dark_with_the_stop_lead_off_as_well() -> None:
    for fault in (with_fault(module_alive=0.0), with_fault(primary_ohm=1e6), with_fault(shorted_share=0.12)):
        assert lit(fault, LEAD_OFF) < 0.02


def test_dark_with_the_stop_lead_off_and_strong_magnets_is_the_coil() -> None:
    others = with_fault(
        air_gap_mm=Spread("uniform", 0.15, 0.8), magnet_strength=Spread("uniform", 0.85, 1.15),
        stop_lead_ohm=Spread("log-uniform", 0.05, 1e4), plug_fouling_ohm=Spread("log-uniform", 1e3, 1e7),
    )  # fmt: skip
    dark = 1.0 - lit(others, LEAD_OFF)
    dead = 1.0 - lit(with_fault(module_alive=0.0), LEAD_OFF)
    # Even with every other fault tried as often as a dead coil, dark means the coil in about 99 of 100.
    assert dead / (dead + dark) > 0.985


def test_a_sheared_key_does_not_stop_the_spark_but_the_engine_does_not_start() -> None:
    fault = with_fault(key_offset_deg=Spread("uniform", 60.0, 120.0), key_damage=1.0)
    assert lit(fault) > 0.99
    assert float(shown("start_chance", fault).max()) < 0.01
    assert float(shown("key_step_mm", fault, STILL).min()) > 9.0


def test_a_leak_in_the_grey_zone_sparks_in_free_air_but_not_in_the_cylinder() -> None:
    fault = with_fault(stop_lead_ohm=Spread("log-uniform", 13.0, 25.0))
    assert float((shown("free_air_margin", fault) > 1.0).mean()) > 0.9
    assert float((shown("plug_spark_margin", fault) > 1.0).mean()) < 0.1


def test_weak_magnets_light_the_tester_only_when_spun_faster() -> None:
    fault = with_fault(magnet_strength=Spread("uniform", 0.55, 0.65))
    assert lit(fault, by("lazy-rope", LEAD_OFF)) < 0.1
    assert lit(fault, by("drill", LEAD_OFF)) > lit(fault, LEAD_OFF) + 0.3


def test_a_gap_wide_by_half_a_millimetre_does_not_darken_a_usual_pull() -> None:
    assert lit(with_fault(air_gap_mm=Spread("uniform", 0.6, 1.0))) > 0.97


def test_the_meter_passes_a_coil_that_two_to_five_shorted_turns_of_a_hundred_have_killed() -> None:
    fault = with_fault(shorted_share=Spread("uniform", 0.02, 0.05))
    healthy, faulty = shown("secondary_meter_ohm", arrangement=STILL), shown("secondary_meter_ohm", fault, STILL)
    low, high = np.percentile(healthy, [2.5, 97.5])
    assert float(((faulty > low) & (faulty < high)).mean()) > 0.92
    assert float((shown("plug_spark_margin", fault) > 1.0).mean()) < 0.55


def test_a_fouled_plug_lights_the_tester_and_not_the_cylinder_and_a_lent_plug_cures_it() -> None:
    fault = with_fault(plug_fouling_ohm=Spread("log-uniform", 3e4, 1.5e5))
    lent = replace(PULLED, added=HELD | {"lent-plug"})
    assert lit(fault) > 0.99
    assert float((shown("plug_spark_margin", fault) > 1.0).mean()) < 0.02
    assert float(shown("start_chance", fault, lent).mean()) > 0.9
    bad_loan = {**fault, "lent_plug_dead": np.ones(len(fault["plug_gap_mm"]))}
    assert float(shown("start_chance", bad_loan, lent).max()) < 0.05


def test_a_cracked_plug_sparks_outside_and_not_inside() -> None:
    fault = with_fault(plug_flashover_kv=Spread("uniform", 4.0, 5.5))
    assert float((shown("free_air_margin", fault) > 1.0).mean()) > 0.97
    assert float((shown("plug_spark_margin", fault) > 1.0).mean()) < 0.02


def test_a_bridged_plug_gap_does_not_spark() -> None:
    assert float(shown("plug_spark_margin", with_fault(plug_gap_mm=0.0)).max()) < 0.01


def test_a_lent_coil_lights_where_the_own_coil_is_dead() -> None:
    fault = with_fault(module_alive=0.0)
    lent = replace(LEAD_OFF, added=LEAD_OFF.added | {"lent-coil"})
    assert lit(fault, lent) > 0.99
    assert lit({**fault, "lent_coil_dead": np.ones(len(fault["plug_gap_mm"]))}, lent) == 0.0


def test_a_new_coil_or_plug_can_be_dead_from_the_box() -> None:
    assert lit(with_fault(new_coil_dead=1.0), LEAD_OFF) == 0.0
    assert float((shown("plug_spark_margin", with_fault(new_plug_dead=1.0)) > 1.0).mean()) == 0.0


def test_a_dead_tester_is_dark_on_a_good_machine() -> None:
    assert lit(with_fault(tester_alive=0.0)) == 0.0


def test_a_coil_that_opens_hot_is_dark_hot_only() -> None:
    fault = with_fault(module_opens_c=Spread("uniform", 50.0, 72.0))
    assert lit(fault) > 0.99
    assert lit(fault, warm(LEAD_OFF)) == 0.0
    assert float(shown("start_chance_hot", fault).max()) < 0.05
    assert float(shown("start_chance", fault).mean()) > 0.9


def test_turns_that_short_hot_weaken_the_hot_spark_only() -> None:
    fault = with_fault(hot_shorted_share=0.08)
    assert lit(fault) > 0.99
    assert lit(fault, warm(LEAD_OFF)) < 0.05


def test_hot_coils_give_less_even_when_sound() -> None:
    assert float(np.median(shown("tester_kv", arrangement=warm(AT_TESTER)))) < float(np.median(shown("tester_kv")))


def test_a_wider_tester_gap_and_blunter_tips_ask_for_more() -> None:
    plain = shown("tester_margin", arrangement=AT_TESTER)
    wide = shown("tester_margin", arrangement=AT_TESTER, setup=Setup({"tester_gap_mm": 8.0}))
    blunt = shown("tester_margin", arrangement=AT_TESTER, setup=Setup({"tester_tip": 0.95}))
    assert (wide < plain).all()
    assert (blunt < plain).all()


def test_thin_mountain_air_asks_for_less_at_the_tester() -> None:
    low = shown("tester_margin", arrangement=AT_TESTER, conditions=Conditions(altitude_m=0.0))
    high = shown("tester_margin", arrangement=AT_TESTER, conditions=Conditions(altitude_m=2500.0))
    assert (high > low).all()


def test_the_in_line_tester_follows_the_plug() -> None:
    fault = with_fault(plug_fouling_ohm=3e4)
    in_line = Arrangement(added=HELD | {"in-line-tester"}, drive="rope")
    assert float((shown("tester_margin", fault, in_line) > 1.0).mean()) < 0.05


def test_without_the_flywheel_or_something_that_spins_it_there_is_nothing_to_see() -> None:
    assert np.isnan(shown("tester_margin", arrangement=STILL)).all()
    assert lit(None, replace(AT_TESTER, off=frozenset({"flywheel"}))) == 0.0


def test_a_coil_put_on_back_to_front_sparks_late() -> None:
    late = shown("spark_btdc_deg") - shown("spark_btdc_deg", with_fault(coil_reversed=1.0))
    np.testing.assert_allclose(late, 18.24, atol=0.01)


def test_healthy_sparks_come_within_two_degrees_of_the_design() -> None:
    spark = shown("spark_btdc_deg")
    assert abs(float(np.median(spark)) - 23.0) < 1.0
    assert float(np.std(spark)) < 2.0


def test_a_badly_earthed_coil_needs_a_faster_spin() -> None:
    fault = with_fault(coil_earth_ohm=Spread("log-uniform", 3.0, 300.0))
    assert lit(fault, LEAD_OFF) < 0.1
    assert float(np.median(shown("threshold_rpm", fault, STILL))) > 2.0 * float(
        np.median(shown("threshold_rpm", arrangement=STILL))
    )


def test_readings_with_feeler_and_meter_are_the_machine_itself() -> None:
    fault = with_fault(air_gap_mm=0.8, plug_gap_mm=1.3, plug_resistor_ohm=9e4, magnet_strength=0.5)
    assert (shown("air_gap_mm", fault, STILL) == 0.8).all()
    assert (shown("plug_gap_mm", fault, STILL) == 1.3).all()
    assert (shown("plug_ohm", fault, STILL) == 9e4).all()
    assert (shown("magnet_pull_mm", fault, STILL) < shown("magnet_pull_mm", arrangement=STILL)).all()
    assert (shown("primary_meter_ohm", with_fault(primary_ohm=1e6), LEAD_OFF) > 1e5).all()


POINTS: dict[str, float | str] = {"trigger": "points"}


@pytest.mark.parametrize(
    "draws",
    [{"points_dirt_ohm": 3000.0}, {"points_gap_mm": 0.02}, {"condenser_leak_ohm": 8.0}],
    ids=["dirty points", "closed points", "leaking condenser"],
)
def test_bad_points_or_condenser_kill_the_spark_of_an_older_engine(draws: dict[str, float]) -> None:
    healthy = shown("tester_margin", arrangement=AT_TESTER, sizes=POINTS)
    faulty = shown("tester_margin", with_fault(**draws), AT_TESTER, POINTS)
    assert float((healthy > 1.0).mean()) > 0.97
    assert float((faulty > 1.0).mean()) < 0.03


def test_an_open_condenser_weakens_the_spark_of_points() -> None:
    healthy = shown("tester_kv", arrangement=AT_TESTER, sizes=POINTS)
    faulty = shown("tester_kv", with_fault(condenser_uf=0.005), AT_TESTER, POINTS)
    assert float(np.median(faulty / healthy)) < 0.5


def test_points_set_too_wide_spark_early() -> None:
    early = shown("spark_btdc_deg", with_fault(points_gap_mm=0.7), PULLED, POINTS)
    late = shown("spark_btdc_deg", with_fault(points_gap_mm=0.4), PULLED, POINTS)
    np.testing.assert_allclose(early - late, 9.0, atol=1e-6)


def test_faults_of_the_points_do_not_exist_on_a_solid_state_coil() -> None:
    assert lit(with_fault(points_dirt_ohm=3000.0, points_gap_mm=0.02)) > 0.99


def test_a_leak_lets_it_miss_at_work_before_it_misses_at_idle() -> None:
    fault = with_fault(stop_lead_ohm=Spread("log-uniform", 15.0, 30.0))
    light = shown("misfire_share", fault, RUNNING)
    heavy = shown("misfire_share", fault, replace(RUNNING, load="full"))
    both = ~np.isnan(light) & ~np.isnan(heavy)
    assert (heavy[both] >= light[both] - 1e-12).all()
    assert float(np.nanmean(heavy)) > float(np.nanmean(light)) + 0.1 or both.sum() == 0


@pytest.mark.parametrize(
    ("name", "grid", "rises"),
    [
        ("stop_lead_ohm", (1.0, 10.0, 30.0, 100.0, 1e3, 1e5, 1e9), True),
        ("lead_leak_ohm", (1e4, 1e5, 1e6, 1e7, 1e9), True),
        ("magnet_strength", (0.3, 0.5, 0.7, 0.9, 1.1), True),
        ("air_gap_mm", (0.15, 0.4, 0.8, 1.5, 3.0), False),
        ("magnet_rust_mm", (0.0, 0.3, 1.0), False),
        ("shorted_share", (0.0, 0.003, 0.01, 0.05, 0.3), False),
        ("primary_joint_ohm", (0.0, 0.5, 2.0, 10.0), False),
        ("boot_gap_mm", (0.0, 1.0, 4.0, 10.0), False),
    ],
)
def test_the_tester_margin_moves_one_way_with_every_fault(name: str, grid: tuple[float, ...], rises: bool) -> None:
    shares = [lit(with_fault(**{name: value})) for value in grid]
    means = [float(np.mean(shown("tester_margin", with_fault(**{name: value}), AT_TESTER))) for value in grid]
    for steps in (np.diff(shares), np.diff(means)):
        assert ((steps if rises else -steps) >= -1e-9).all()


@pytest.mark.parametrize("world", range(6))
def test_the_first_split_of_no_spark_holds_when_every_guess_is_off(world: int) -> None:
    names = constants.guessed()
    factors = np.exp(0.15 * (2.0 * uniform(("shifted world", world), len(names)) - 1.0))
    with constants.shifted(dict(zip(names, factors.tolist(), strict=True))):
        short = with_fault(stop_lead_ohm=Spread("log-uniform", 0.05, 1.0))
        assert lit() > 0.93
        assert lit(short) < 0.01
        assert lit(short, LEAD_OFF) > 0.93
        assert lit(with_fault(module_alive=0.0), LEAD_OFF) == 0.0
