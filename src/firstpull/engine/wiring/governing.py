"""Wires speed: governor, springs, control, idle stop, hunting."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, governing, hunting, mixture
from firstpull.engine.carburettor import leak_ratio
from firstpull.engine.driven_load import radians_per_s
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.wiring.mixture import steady_now
from firstpull.engine.wiring.variants import at_load

FloatArray = NDArray[np.float64]
_LOAD = {"none": 0.0, "half": 0.5, "full": 1.0}
_LEAST_SEEN_RPM = 20.0


def _governed(m: Machine) -> bool:
    return m.trait("governor_kind") != "none"


@rule("full_strength")
def full_strength(m: Machine) -> FloatArray:
    """Gross torque of this engine at full throttle over that of a sound one, friction counted in."""
    friction = constants.value("friction_share")
    brake = np.clip(m.quantity("engine_power_share") * m.quantity("air_share"), 0.0, 1.3)
    return friction + (1.0 - friction) * brake


@rule("governor_droop_share")
def governor_droop_share(m: Machine) -> FloatArray:
    """Fall of speed over the travel of this governor with its spring and hole."""
    return governing.droop_share(
        m.size("governor_droop"), m.parameter("governor_spring_rate"), m.parameter("governor_spring_hole")
    )


@rule("governor_lost")
def governor_lost(m: Machine) -> FloatArray:
    """How far the governor no longer reaches the throttle: link off, weights gone, vane gone."""
    kept = (1.0 - m.parameter("governor_link_off")) * (1.0 - m.parameter("governor_internal_wear"))
    if m.trait("governor_kind") == "vane":
        kept = kept * (1.0 - constants.value("vane_runaway") * m.parameter("vane_damage"))
    return 1.0 - kept


@rule("set_rpm")
def set_rpm(m: Machine) -> FloatArray:
    """Speed at which the governor holds it with the control at fast, no load."""
    speed = governing.set_speed_rpm(
        m.parameter("top_speed_set_rpm"),
        m.parameter("governor_spring_rate"),
        m.parameter("governor_spring_hole"),
    )
    slow = m.parameter("idle_set_rpm")
    pulled = slow + (speed - slow) * m.parameter("throttle_cable_share")
    off = m.parameter("governor_spring_off")
    return pulled * (1.0 - off) + off * np.minimum(pulled, speed * constants.value("spring_off_share"))


def _free_top(m: Machine) -> FloatArray:
    """Top speed without a governor: set by mixture and strength."""
    lean = constants.value("screw_speed_gain") * (m.size("design_phi") - m.quantity("run_mixture_phi"))
    friction = constants.value("friction_share")
    strength = np.sqrt(np.clip(m.quantity("full_strength") - friction, 0.0, 1.2) / (1.0 - friction))
    reach = 0.35 + 0.65 * m.parameter("throttle_cable_share")
    return m.parameter("top_speed_set_rpm") * np.clip(1.0 + lean, 0.6, 1.15) * strength * reach


@rule("top_rpm")
def top_rpm(m: Machine) -> FloatArray:
    """The fast position, no load; above the set speed where the throttle cannot close far enough."""
    if not _governed(m):
        return _free_top(m)
    strength = m.quantity("full_strength")
    stuck = constants.value("stuck_travel") * step_up(
        m.parameter("governor_friction"), constants.value("stuck_friction"), 0.05
    )
    least = np.maximum(np.maximum(m.parameter("governor_static_error"), m.quantity("governor_lost")), stuck)
    runaway = governing.runaway_share(least, strength)
    held = governing.governed_share(np.zeros(m.count), strength, m.quantity("governor_droop_share"))
    return m.quantity("set_rpm") * np.maximum(held, runaway)


@rule("load_share_now")
def load_share_now(m: Machine) -> FloatArray:
    """Load torque of the arrangement over the full-throttle gross torque of a sound engine."""
    spare = 1.0 - constants.value("friction_share") - constants.value("no_load_share")
    share = _LOAD[m.load] * m.size("rated_load_share") * spare
    return share * m.quantity("load_torque_share")


def _loaded(m: Machine) -> FloatArray:
    load, strength = m.quantity("load_share_now"), m.quantity("full_strength")
    supply = np.clip(1.02 * m.quantity("supply_at_once"), 0.0, 1.0)
    strength = strength * (supply if m.load != "none" else 1.0)
    if not _governed(m):
        spare = np.clip(strength - constants.value("friction_share"), 0.0, None)
        # Without a governor all the torque there is goes into windage at top speed; a load takes its share of it.
        return m.quantity("top_rpm") * np.sqrt(spare / np.clip(spare + load, 1e-6, None))
    droop = m.quantity("governor_droop_share") * (
        1.0 + constants.value("play_droop") * m.parameter("governor_link_play")
    )
    none = governing.governed_share(np.zeros(m.count), strength, droop)
    now = governing.governed_share(load, strength, droop)
    return m.quantity("top_rpm") * now / np.clip(none, 1e-3, None)


@rule("loaded_rpm")
def loaded_rpm(m: Machine) -> FloatArray:
    """Speed at the fast position under the load of the arrangement."""
    if m.load == "none" or m.off("load"):
        return m.quantity("top_rpm")
    return _loaded(m)


@rule("droop_percent")
def droop_percent(m: Machine) -> FloatArray:
    """Fall of speed from no load to half load."""
    half = at_load(m, "half")
    return 100.0 * (1.0 - half.quantity("loaded_rpm") / np.clip(m.quantity("top_rpm"), 1.0, None))


@rule("idle_rpm")
def idle_rpm(m: Machine) -> FloatArray:
    """Speed at the slow position, no load."""
    sound = mixture.torque_share(np.full(1, m.size("design_idle_phi")))
    strength = mixture.torque_share(m.quantity("idle_mixture_phi")) / sound
    # What leaks in is air as well: it leans, and it lets the engine run faster while it still burns.
    leaner = leak_ratio(m.quantity("intake_leak_mm2"), m.size("throat_mm"), "idle_leak_share")
    air = 1.0 + (constants.value("governed_idle_share") if _governed(m) else 1.0) * (1.0 / leaner - 1.0)
    slow = m.parameter("idle_set_rpm") * governing.idle_share(air, strength)
    stays = np.maximum(
        0.9 * step_up(m.parameter("throttle_cable_stiff"), 0.6, 0.06),
        0.5 * m.parameter("throttle_return_weak") ** 2,
    )
    stays = np.maximum(stays, step_up(m.parameter("governor_friction"), 0.8, 0.05) * 0.4)
    races = m.quantity("governor_lost") if _governed(m) else np.zeros(m.count)
    fast = np.maximum(m.quantity("top_rpm") - slow, 0.0)
    return np.asarray(slow + fast * np.maximum(stays, races))


@rule("swing_parts")
def swing_parts(m: Machine) -> FloatArray:
    """Swing over set speed and its frequency, two rows of N: the grid of the governed engine, and wandering."""
    speed = radians_per_s(np.clip(m.quantity("set_rpm"), 500.0, None))
    net = 1.0 - constants.value("friction_share") - constants.value("no_load_share")
    rated = radians_per_s(np.full(1, m.size("usual_top_rpm")))
    full_nm = m.size("rated_power_w") / rated / net * np.clip(m.quantity("full_strength"), 0.2, None)
    spin = full_nm / (m.quantity("inertia_kgm2") * speed)
    play = m.parameter("governor_link_play") + constants.value("friction_as_play") * m.parameter("governor_friction")
    swing = hunting.swing_of(m.quantity("idle_mixture_phi"), spin, m.quantity("governor_droop_share"), play)
    wander = 0.5 * constants.value("wander_share") * play * m.quantity("governor_droop_share")
    both = swing.swing_share**2 + wander**2
    pace = swing.hertz * swing.swing_share**2 + constants.value("wander_hz") * wander**2
    return np.stack([np.sqrt(both), pace / np.clip(both, 1e-12, None)])


@rule("hunting_swing_rpm")
def hunting_swing_rpm(m: Machine) -> FloatArray:
    """From the grid where it is governed; a plain lean surge where it is not; calmer under load."""
    calm = 1.0 if m.load == "none" else constants.value("load_calms")
    if not _governed(m):
        return calm * constants.value("surge_rpm") * (1.0 - steady_now(m))
    kept = 1.0 - np.clip(2.0 * m.quantity("governor_lost"), 0.0, 1.0)
    return np.asarray(calm * m.quantity("swing_parts")[0] * m.quantity("set_rpm") * kept)


@rule("hunting_hz")
def hunting_hz(m: Machine) -> FloatArray:
    """Swings a second; NaN where it does not hunt."""
    hertz = np.full(m.count, constants.value("film_surge_hz"))
    if _governed(m):
        hertz = m.quantity("swing_parts")[1]
    return np.where(m.quantity("hunting_swing_rpm") > _LEAST_SEEN_RPM, hertz, np.nan)


@rule("overspeed")
def overspeed(m: Machine) -> FloatArray:
    """Chance that it runs dangerously fast (more than a tenth above its set top speed)."""
    return governing.overspeed_chance(m.quantity("top_rpm"), m.size("usual_top_rpm"))


@rule("races_at_idle")
def races_at_idle(m: Machine) -> FloatArray:
    """Chance that people would say it idles much too fast."""
    return step_up(m.quantity("idle_rpm") / m.size("usual_idle_rpm"), constants.value("races_share"), 0.05)


@rule("spring_opens_throttle")
def spring_opens_throttle(m: Machine) -> FloatArray:
    """Stopped: how surely the spring holds the throttle open and it moves freely."""
    pulls = (1.0 - m.parameter("governor_spring_off")) * (1.0 - m.parameter("governor_link_off"))
    strong = step_up(m.parameter("governor_spring_rate"), 0.35, 0.08)
    return pulls * strong * (1.0 - m.parameter("governor_friction"))


@rule("speed_follows_control")
def speed_follows_control(m: Machine) -> FloatArray:
    """How well speed follows the hand control, 0 not to 1 fully."""
    free = 1.0 - np.maximum(m.parameter("throttle_cable_stiff"), m.quantity("governor_lost"))
    reach = np.clip(m.quantity("top_rpm") - m.quantity("idle_rpm"), 0.0, None)
    usual = m.size("usual_top_rpm") - m.size("usual_idle_rpm")
    return free * np.clip(reach / usual, 0.0, 1.0)
