"""Wires the chance to start, and to keep running."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, starting
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.vocabulary.types import Arrangement, Choke, Thermal
from firstpull.engine.wiring.compression import usual

FloatArray = NDArray[np.float64]
_CANNOT_FIRE_OFF = ("plug", "plug-lead", "head", "crankcase", "flywheel", "rocker-cover", "torque")
_CANNOT_FIRE_ADDED = ("tester-on-lead", "crank-held", "ports-blocked")
_CANNOT_RUN_OFF = (*_CANNOT_FIRE_OFF, "shroud", "oil", "fuel", "fuel-hose", "bowl", "carburettor", "muffler")


def rearranged(m: Machine, arrangement: Arrangement) -> Machine:
    """The same machines in another arrangement."""
    if arrangement == m.arrangement:
        return m
    return replace(m, arrangement=arrangement, _known={})


def _as_started(m: Machine, thermal: Thermal) -> Arrangement:
    """How people start it: control held, choke closed when cold and open when hot, by rope unless driven already."""
    choke: Choke = m.choke
    if choke == "open" and thermal == "cold" and not m.added("primed"):
        choke = "closed"
    drive = m.drive
    if drive in ("none", "running"):
        drive = "starter" if m.trait("electric_start") == "yes" and m.trait("rope_in_cover") == "no" else "rope"
    return replace(
        m.arrangement, added=m.arrangement.added | {"control-held"}, drive=drive, thermal=thermal, choke=choke,
        load="none",
    )


def _can_fire(m: Machine) -> float:
    blocked = any(m.off(token) for token in _CANNOT_FIRE_OFF) or any(m.added(token) for token in _CANNOT_FIRE_ADDED)
    return 0.0 if blocked else 1.0


@rule("cylinder_fires")
def _cylinder_fires(m: Machine) -> FloatArray:
    """Chance that a turn fires if the mixture suits: spark, compression, timing, speed, air."""
    needed = "start_peak_ported_kpa" if m.trait("cycle") == "two-stroke" else "start_peak_kpa"
    return (
        _can_fire(m)
        * starting.spark_chance(m.quantity("plug_spark_margin"))
        * starting.pressed_enough(m.quantity("peak_pressure_kpa"), constants.value(needed))
        * starting.warmed_enough(m.quantity("charge_warmest_k"))
        * starting.timing_chance(m.quantity("spark_btdc_deg"))
        * step_up(m.quantity("crank_rpm"), constants.value("start_speed_rpm"), constants.value("start_speed_width_rpm"))
        * step_up(m.quantity("breathing"), constants.value("breathing_middle"), constants.value("breathing_width"))
    )


def _catch_chance(m: Machine) -> FloatArray:
    """Chance that one pull makes it catch, whether or not it would keep running."""
    mixture = starting.mixture_chance(
        m.quantity("start_mixture_phi"), constants.value("start_lean_phi"), constants.value("start_rich_phi")
    )
    return constants.value("best_pull_chance") * m.quantity("cylinder_fires") * mixture * m.quantity("fuel_arrives")


def _keeps(m: Machine) -> FloatArray:
    """Would run with the choke open, or at least with it closed."""
    opened = rearranged(m, replace(m.arrangement, choke="open", drive="running"))
    shut = rearranged(m, replace(m.arrangement, choke="closed", drive="running"))
    fed = np.maximum(opened.quantity("fed_to_run"), shut.quantity("fed_to_run"))
    opened = replace(opened, _known={**opened._known, "crank_locked": m.quantity("crank_locked")})
    return np.minimum(opened.quantity("sound_to_run"), fed)


def _pull(m: Machine, thermal: Thermal) -> tuple[FloatArray, FloatArray]:
    tried = rearranged(m, _as_started(m, thermal))
    return _catch_chance(tried), _keeps(tried)


def _taken_to_turn(m: Machine) -> Machine:
    """The same machines with the crank free and turned as a sound one is, whatever rope, key, brake or a lock do.

    Who cannot turn it complains of the rope or the key, not of the start.
    """
    sound = usual(m).quantity("crank_rpm") * np.ones(m.count)
    if m.drive != "starter":
        sound = sound * m.parameter("pull_strength")
    return replace(m, _known={"crank_rpm": sound, "crank_locked": np.zeros(m.count)})


def _turned(m: Machine, thermal: Thermal) -> tuple[FloatArray, FloatArray]:
    """Chance to catch in one pull and to keep running, the crank taken to turn."""
    tried = _taken_to_turn(rearranged(m, _as_started(m, thermal)))
    return _catch_chance(tried), _keeps(tried)


def _starts_turned(m: Machine, thermal: Thermal) -> FloatArray:
    catch, keeps = _turned(m, thermal)
    return starting.within(catch, constants.value("pulls_tried")) * keeps


@rule("start_chance_turned")
def _start_chance_turned(m: Machine) -> FloatArray:
    return _starts_turned(m, m.thermal)


def _cold_and_hot(m: Machine) -> tuple[FloatArray, FloatArray]:
    """Chances to start, turned: cold with the choke shut, warm with it open or, when that fails, shut."""
    shut = rearranged(m, replace(m.arrangement, choke="closed"))
    opened = rearranged(m, replace(m.arrangement, choke="open"))
    hot = np.maximum(_starts_turned(opened, "hot"), _starts_turned(shut, "hot"))
    return _starts_turned(shut, "cold"), hot


@rule("fails_hot_only")
def _fails_hot_only(m: Machine) -> FloatArray:
    cold, hot = _cold_and_hot(m)
    return cold * (1.0 - hot) * (1.0 - m.quantity("crank_locked"))


@rule("fails_cold_only")
def _fails_cold_only(m: Machine) -> FloatArray:
    cold, hot = _cold_and_hot(m)
    return hot * (1.0 - cold) * (1.0 - m.quantity("crank_locked"))


@rule("pull_start_chance")
def _pull_start_chance(m: Machine) -> FloatArray:
    catch, keeps = _pull(m, m.thermal)
    return catch * keeps


@rule("start_chance")
def _start_chance(m: Machine) -> FloatArray:
    catch, keeps = _pull(m, m.thermal)
    return starting.within(catch, constants.value("pulls_tried")) * keeps


@rule("start_chance_hot")
def _start_chance_hot(m: Machine) -> FloatArray:
    catch, keeps = _pull(m, "hot")
    return starting.within(catch, constants.value("pulls_tried")) * keeps


@rule("pulls_to_start")
def _pulls_to_start(m: Machine) -> FloatArray:
    return starting.expected_pulls(m.quantity("pull_start_chance"), 20.0)


@rule("pulls_turned")
def _pulls_turned(m: Machine) -> FloatArray:
    catch, keeps = _turned(m, m.thermal)
    return starting.expected_pulls(catch * keeps, 20.0)


@rule("coughs")
def _coughs(m: Machine) -> FloatArray:
    catch, keeps = _pull(m, m.thermal)
    return starting.within(catch, constants.value("pulls_tried")) * (1.0 - keeps)


@rule("fires_on_prime")
def _fires_on_prime(m: Machine) -> FloatArray:
    arrangement = _as_started(m, m.thermal)
    primed = rearranged(m, replace(arrangement, added=arrangement.added | {"primed"}, choke="open"))
    fires = constants.value("best_pull_chance") * primed.quantity("cylinder_fires")
    return starting.within(fires * primed.quantity("prime_mixture_suits"), 3.0)


@rule("hard_pull_gain")
def _hard_pull_gain(m: Machine) -> FloatArray:
    tried = _as_started(m, m.thermal)
    harder = dict(m.params)
    harder["pull_strength"] = m.parameter("pull_strength") * constants.value("hard_pull_share")
    strong = replace(m, params=harder, arrangement=tried, _known={})
    return np.maximum(_catch_chance(strong) - _catch_chance(rearranged(m, tried)), 0.0)


@rule("fed_to_run")
def _fed_to_run(m: Machine) -> FloatArray:
    """How surely fuel and mixture let it run on."""
    mixture = starting.mixture_chance(
        m.quantity("run_mixture_phi"), constants.value("run_lean_phi"), constants.value("run_rich_phi")
    )
    return np.minimum(mixture, m.quantity("fuel_arrives"))


@rule("sound_to_run")
def _sound_to_run(m: Machine) -> FloatArray:
    """How surely everything but the mixture lets it run on: the weakest of spark, pressure, air, timing, free crank."""
    if any(m.off(token) for token in _CANNOT_RUN_OFF) or any(m.added(token) for token in _CANNOT_FIRE_ADDED):
        return np.zeros(m.count)
    needs = (
        1.0 - step_up(m.quantity("misfire_share"), constants.value("misfire_tolerance"), 0.05),
        step_up(m.quantity("tight_share"), constants.value("run_tight_middle"), constants.value("run_tight_width")),
        step_up(m.quantity("breathing"), constants.value("breathing_middle"), constants.value("breathing_width")),
        starting.timing_chance(m.quantity("run_spark_btdc_deg")),
        1.0 - step_up(m.quantity("crank_locked"), 0.5, 0.03),
    )
    weakest = needs[0]
    for need in needs[1:]:
        weakest = np.minimum(weakest, need)
    return weakest


@rule("would_run")
def _would_run(m: Machine) -> FloatArray:
    return np.minimum(m.quantity("sound_to_run"), m.quantity("fed_to_run"))
