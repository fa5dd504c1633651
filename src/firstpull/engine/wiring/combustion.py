"""Wires the burn: torque, knock, bangs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import combustion, constants, exhaust, valves
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places
from firstpull.engine.wiring.exhaust import back_pressure_pa

FloatArray = NDArray[np.float64]


@rule("run_burn_deg")
def _burn(m: Machine) -> FloatArray:
    """Burn duration at working speed and load."""
    rpm = np.full(m.count, m.size("rated_speed_rpm"))
    return combustion.burn_duration(
        m.quantity("run_mixture_phi"), m.quantity("residual_share"), rpm, m.parameter("burn_speed_ratio")
    )


@rule("timing_torque_share")
def _timing(m: Machine) -> FloatArray:
    return combustion.timing_share(m.quantity("run_spark_btdc_deg"), m.quantity("run_burn_deg"))


@rule("late_burn_share")
def _late(m: Machine) -> FloatArray:
    return combustion.late_share(m.quantity("run_spark_btdc_deg"), m.quantity("run_burn_deg"))


@rule("tight_share")
def _tight(m: Machine) -> FloatArray:
    """Indicated work left by leaks, a release that never shuts, a valve that hardly lifts, cam out of step."""
    leak = sum(places.by_place(m, False, cranking=True).values(), np.zeros(m.count))
    stuck = constants.value("valves_stuck_share") * places.stuck_release(m)
    leak = constants.value("compression_discharge") * (leak + stuck)
    left = combustion.leak_share(leak, m.size("displacement_cm3") * 1e-6, m.size("rated_speed_rpm"))
    if not places.has_valves(m):
        return left * m.quantity("scavenge_share")
    fill = valves.filling(m.parameter("intake_lift_share"), places.lash(m, "intake"), 0.35 * m.size("valve_lift_mm"))
    out = np.exp(-((m.parameter("cam_timing_error_deg") / constants.value("valves_cam_power_deg")) ** 2))
    full = -np.expm1(-0.35 * m.size("valve_lift_mm") / constants.value("valves_fill_lift_mm"))
    return np.asarray(left * fill / full * out)


@rule("full_indicated_pa")
def _full(m: Machine) -> FloatArray:
    """Indicated pressure of a sound machine of the class at sea level."""
    r = m.size("compression_ratio")
    efficiency = (1.0 - r**-0.35) / (1.0 - 8.5**-0.35)
    ported = 1.0 if places.has_valves(m) else 0.62
    return np.full(m.count, constants.value("combustion_indicated_kpa") * 1e3 * efficiency * ported)


def _brake(m: Machine, share: FloatArray) -> FloatArray:
    return combustion.brake_share(share, m.quantity("full_indicated_pa"), min(m.size("rated_speed_rpm"), 4500.0))


@rule("compression_torque_share")
def _compression_torque(m: Machine) -> FloatArray:
    return _brake(m, m.quantity("tight_share"))


def _clean_out(m: Machine) -> FloatArray:
    """What the clean way out of the class leaves."""
    back, ambient = back_pressure_pa(m, np.ones(1)), np.full(1, places.ambient_pa(m))
    return exhaust.power_left(back, ambient, exhaust.residual(back, ambient, np.ones(1)))


@rule("indicated_share")
def _indicated_share(m: Machine) -> FloatArray:
    """Indicated work over that of a sound machine at sea level."""
    ambient = np.full(m.count, places.ambient_pa(m))
    dense = places.ambient_pa(m) / 101325.0 * 288.15 / places.ambient_k(m)
    phi = m.quantity("run_mixture_phi")
    right = np.full(1, m.size("design_phi"))
    heat = combustion.heat_per_kg(phi, np.zeros(m.count)) / combustion.heat_per_kg(right, np.zeros(1))
    out = exhaust.power_left(m.quantity("backpressure_pa"), ambient, m.quantity("residual_share")) / _clean_out(m)
    fires = (1.0 - m.quantity("misfire_share")) * m.quantity("mixture_burns")
    return m.quantity("tight_share") * m.quantity("timing_torque_share") * heat * out * fires * dense


@rule("engine_power_share")
def _power(m: Machine) -> FloatArray:
    return _brake(m, m.quantity("indicated_share") * (1.0 - m.quantity("heat_fade")))


@rule("indicated_kpa")
def _indicated(m: Machine) -> FloatArray:
    return m.quantity("indicated_share") * m.quantity("full_indicated_pa") / 1e3


@rule("no_power")
def _no_power(m: Machine) -> FloatArray:
    half, width = constants.value("combustion_no_power_share"), constants.value("combustion_no_power_width")
    return chance(-m.quantity("engine_power_share"), -half, width)


@rule("after_fire")
def _after_fire(m: Machine) -> FloatArray:
    rich = np.maximum(m.quantity("idle_mixture_phi") - 1.25, 0.0)
    drawn = m.quantity("late_burn_share") + 0.8 * rich + 0.35 * m.parameter("muffler_leak")
    bang = chance(drawn, constants.value("combustion_after_fire"), constants.value("combustion_after_fire_width"))
    if m.trait("bowl_solenoid") == "yes":
        # Fitted to engines that bang without it (judgement): while it stays open, this one nearly always does.
        shuts = m.parameter("bowl_solenoid_shuts")
        bang = shuts * 0.1 * bang + (1.0 - shuts) * np.maximum(bang, 0.98)
    return bang


@rule("backfire_chance")
def _backfire(m: Machine) -> FloatArray:
    spark = m.quantity("run_spark_btdc_deg")
    wrong = 1.0 - (1.0 - chance(-spark, 4.0, 3.0)) * (1.0 - chance(spark, 62.0, 4.0))
    cam = places.has_valves(m) * chance(np.abs(m.parameter("cam_timing_error_deg")), 22.0, 4.0)
    return 1.0 - (1.0 - wrong) * (1.0 - cam) * (1.0 - 0.6 * m.quantity("valve_spit_back"))


@rule("pinging")
def _pinging(m: Machine) -> FloatArray:
    early = m.quantity("run_spark_btdc_deg") - combustion.best_spark(m.quantity("run_burn_deg"))
    crust = 12.0 * np.maximum(m.parameter("combustion_carbon") - 0.3, 0.0)
    warm = np.maximum(m.quantity("head_c") - 220.0, 0.0) / 15.0
    return chance(early + crust + warm, constants.value("combustion_ping_margin"), 2.0)


@rule("runs_on")
def _runs_on(m: Machine) -> FloatArray:
    crust = (
        constants.value("combustion_run_on_carbon_c") * np.maximum(m.parameter("combustion_carbon") - 0.3, 0.0) / 0.7
    )
    half, width = constants.value("combustion_run_on_head_c"), constants.value("combustion_run_on_width_c")
    return chance(m.quantity("head_c") + crust, half, width)
