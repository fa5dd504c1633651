"""Wires compression by hand, rope and gauge."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import compression, constants, valves
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]


def as_pulled(m: Machine) -> Machine:
    """The same machines as their owner pulls them: whole, control held, choke by feel."""
    owner = replace(
        m.arrangement, off=frozenset(), added=frozenset({"control-held"}), drive="rope", load="none",
        choke="open" if m.thermal == "hot" else "closed",
    )  # fmt: skip
    return m.rearranged(owner)


def usual(m: Machine) -> Machine:
    """One machine of the class with everything at its healthy middle, in the same arrangement."""
    return m.usual()


def _open_hole(m: Machine) -> bool:
    return m.off("plug") or m.off("head")


def _liquid(m: Machine) -> FloatArray:
    return m.parameter("cylinder_fuel_cm3") + m.parameter("cylinder_oil_cm3") + m.parameter("cylinder_water_cm3")


def _wet(m: Machine) -> bool:
    return m.added("oil-in-cylinder")


def _oil_left(m: Machine, wet: bool) -> float:
    return constants.value("compression_oil_stays") * m.size("wet_test_oil_cm3") if wet else 0.0


def _inlet_share(m: Machine) -> FloatArray:
    choke = {"open": 1.0, "part": constants.value("compression_choke_part")}
    drawn = choke.get(m.choke, constants.value("compression_choke_closed"))
    if places.has_valves(m):
        lift = m.parameter("intake_lift_share")
        return drawn * valves.filling(lift, places.lash(m, "intake"), m.size("valve_lift_mm"))
    return np.full(m.count, drawn)


def _release(m: Machine, rpm: FloatArray) -> FloatArray:
    kind = m.trait("compression_release")
    if kind in ("none", "hand-valve"):
        return np.zeros(m.count)
    lash = places.lash(m, "intake" if kind == "intake-lift" else "exhaust")
    return valves.release_area(
        m.size("release_area_mm2"),
        m.parameter("release_lift_share"),
        lash,
        m.size("lash_nominal_mm"),
        rpm,
        max(
            constants.value("valves_release_off_rpm"),
            constants.value("valves_release_off_share") * m.size("rated_speed_rpm"),
        ),
    )


def _release_ends(m: Machine) -> FloatArray:
    """A release that sticks stays open to near top dead centre."""
    sound, stuck = m.size("release_ends_deg"), min(m.size("release_ends_deg"), constants.value("valves_stuck_ends_deg"))
    return sound + (stuck - sound) * m.parameter("release_stuck_on")


def stroke(
    m: Machine, rpm: FloatArray, wet: bool, extra_cm3: float, liquid_cm3: FloatArray | float
) -> compression.Stroke:
    """One compression stroke of these machines at this speed."""
    warm = places.hot(m)
    ambient = np.full(m.count, places.ambient_pa(m))
    air_k = places.ambient_k(m)
    leak = sum(places.by_place(m, wet, cranking=True).values(), np.zeros(m.count))
    discharge = constants.value("compression_discharge")
    speed = np.maximum(rpm, 40.0)
    cam = m.parameter("cam_timing_error_deg") * places.has_valves(m)
    begin = valves.closing_angle(
        m.size("compression_begins_deg"),
        cam,
        places.lash(m, "intake") if places.has_valves(m) else np.full(m.count, 0.12),
    )
    return compression.Stroke(
        begin_deg=begin,
        clearance_m3=places.clearance_m3(m, liquid_cm3) + extra_cm3 * 1e-6,
        speed_rpm=speed,
        leak_mm2=discharge * leak,
        release_mm2=discharge * np.maximum(_release(m, speed), places.stuck_release(m)),
        release_ends_deg=_release_ends(m),
        inlet_pa=ambient * _inlet_share(m),
        inlet_k=np.full(m.count, air_k + (constants.value("compression_hot_charge_k") if warm else 0.0)),
        wall_k=np.full(m.count, constants.value("compression_hot_wall_k") if warm else air_k),
        ambient_pa=ambient,
    )


@rule("stroke_followed")
def _followed(m: Machine) -> FloatArray:
    """Pressure and temperature of a stroke at each crank angle, shape (2, K, N); flat with the plug hole open."""
    wet = _wet(m)
    made = stroke(m, m.quantity("crank_rpm"), wet, 0.0, _liquid(m) + _oil_left(m, wet))
    if _open_hole(m):
        flat = np.stack((made.ambient_pa, made.inlet_k))
        return np.asarray(np.repeat(flat[:, None, :], len(compression.GRID_DEG), axis=1))
    return compression.follow(made, places.geometry(m), precision=np.float32).table


@rule("spark_state")
def _spark_state(m: Machine) -> FloatArray:
    """Pressure and temperature when the spark comes, shape (2, N)."""
    followed = compression.Followed(m.quantity("stroke_followed"))
    return np.stack(compression.state_at(followed, m.quantity("spark_btdc_deg")))


@rule("peak_pressure_kpa")
def _peak(m: Machine) -> FloatArray:
    return np.asarray(m.quantity("stroke_followed")[0].max(axis=0) / 1e3)


@rule("charge_warmest_k")
def _charge_warmest(m: Machine) -> FloatArray:
    """Highest temperature of the charge without a spark: at the top, or before it where much leaks."""
    return np.asarray(m.quantity("stroke_followed")[1].max(axis=0))


@rule("spark_pressure_kpa")
def _spark_pressure(m: Machine) -> FloatArray:
    return np.asarray(m.quantity("spark_state")[0] / 1e3)


@rule("spark_temperature_k")
def _spark_temperature(m: Machine) -> FloatArray:
    return np.asarray(m.quantity("spark_state")[1])


@rule("compression_work_j")
def _work(m: Machine) -> FloatArray:
    followed = compression.Followed(m.quantity("stroke_followed"))
    return compression.work_done(followed, places.geometry(m), np.full(m.count, places.ambient_pa(m)))


@rule("charge_pressure_kpa")
def _charge_pressure(m: Machine) -> FloatArray:
    return places.ambient_pa(m) * _inlet_share(m) / 1e3


def gauge_kpa(m: Machine, wet: bool) -> FloatArray:
    """Needle of the compression gauge, cylinder wet or dry."""
    hose = m.setup.get("gauge_hose_cm3", 3.0)
    at_plug = m.setup.get("gauge_valve_at_plug", 1.0) > 0.5
    made = stroke(m, m.quantity("crank_rpm"), wet, 0.0 if at_plug else hose, _oil_left(m, wet))
    done = compression.compress(made, places.geometry(m), precision=np.float32)
    cracking = m.setup.get("gauge_cracking_kpa", 20.0) * 1e3
    behind = hose * 1e-6 if at_plug else 0.0
    pulls = m.setup.get("gauge_pulls", 6.0)
    return compression.gauge_reading(done.peak_pa, made.ambient_pa, made.clearance_m3, behind, cracking, pulls) / 1e3


@rule("compression_kpa")
def _compression(m: Machine) -> FloatArray:
    return gauge_kpa(m, _wet(m))


@rule("compression_gain_kpa")
def _gain(m: Machine) -> FloatArray:
    if _wet(m):
        return m.quantity("compression_kpa") - gauge_kpa(m, False)
    return gauge_kpa(m, True) - m.quantity("compression_kpa")


@rule("slow_compression_kpa")
def _slow(m: Machine) -> FloatArray:
    if _open_hole(m):
        return np.zeros(m.count)
    slow = np.full(m.count, constants.value("compression_slow_rpm"))
    wet = _wet(m)
    made = stroke(m, slow, wet, 0.0, _liquid(m) + _oil_left(m, wet))
    done = compression.compress(made, places.geometry(m), precision=np.float32)
    return np.maximum(done.peak_pa - made.ambient_pa, 0.0) / 1e3


@rule("compression_firmness")
def _firmness(m: Machine) -> FloatArray:
    half, width = constants.value("compression_firm_kpa"), constants.value("compression_firm_width_kpa")
    return chance(m.quantity("slow_compression_kpa"), half, width)


@rule("pull_effort_n")
def _pull_effort(m: Machine) -> FloatArray:
    peak, ambient = m.quantity("peak_pressure_kpa") * 1e3, np.full(m.count, places.ambient_pa(m))
    pressed = compression.rope_force(peak, ambient, places.geometry(m), m.size("rope_radius_mm") * 1e-3)
    return m.quantity("rope_drag_n") + pressed


def strongest_pull_nm(m: Machine) -> float:
    """Torque at the reel at which a usual arm stands still."""
    size = m.size("displacement_cm3") / 160.0
    usual_nm = (constants.value("hand_friction_nm") + constants.value("hand_compression_nm")) * size
    return constants.value("arm_strongest_share") * (usual_nm + constants.value("usual_reel_nm"))


@rule("crank_locked")
def _locked(m: Machine) -> FloatArray:
    full = _liquid(m) / (places.clearance_m3(m, 0.0) * 1e6)
    half, width = constants.value("compression_lock_share"), constants.value("compression_lock_width")
    liquid = np.zeros(m.count) if _open_hole(m) else chance(full, half, width)
    stuck = chance(m.parameter("seizure"), 0.5, 0.05)
    # What hangs on the crank may hold it as fast as a seized piston does: a jammed blade, a seized pump.
    held = chance(m.quantity("drag_torque_nm") / strongest_pull_nm(m), 1.0, constants.value("compression_held_width"))
    free = (1.0 - liquid) * (1.0 - stuck) * (1.0 - held)
    return 1.0 - free * (1.0 - 0.5 * m.parameter("rod_broken"))


def _spat(m: Machine, what: str) -> FloatArray:
    return m.parameter(f"cylinder_{what}_cm3") if _open_hole(m) else np.zeros(m.count)


@rule("spat_fuel_cm3")
def _spat_fuel(m: Machine) -> FloatArray:
    flooded = m.parameter("flooded_ml")
    return _spat(m, "fuel") + (0.5 * flooded if _open_hole(m) else 0.0)


@rule("spat_oil_cm3")
def _spat_oil(m: Machine) -> FloatArray:
    return _spat(m, "oil") + (_oil_left(m, _wet(m)) if _open_hole(m) else 0.0)


@rule("spat_water_cm3")
def _spat_water(m: Machine) -> FloatArray:
    return _spat(m, "water")


@rule("hard_pull")
def _hard_pull(m: Machine) -> FloatArray:
    owner = as_pulled(m)
    over = owner.quantity("pull_effort_n") / usual(owner).quantity("pull_effort_n")
    stiff = chance(over, constants.value("compression_hard_pull"), constants.value("compression_hard_pull_width"))
    return np.maximum(stiff, owner.quantity("crank_locked"))


@rule("easy_pull")
def _easy_pull(m: Machine) -> FloatArray:
    return chance(-as_pulled(m).quantity("compression_firmness"), -0.35, 0.06)
