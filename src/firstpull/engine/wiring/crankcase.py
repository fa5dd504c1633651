"""Wires sealing, breathing and pumping of the crankcase."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, crankcase
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]


def _two_stroke(m: Machine) -> float:
    return 1.0 if m.trait("cycle") == "two-stroke" else 0.0


def _air(m: Machine) -> tuple[FloatArray, FloatArray]:
    return np.full(m.count, places.ambient_pa(m)), np.full(m.count, places.ambient_k(m))


def _seals(m: Machine) -> FloatArray:
    return (
        m.parameter("seal_flywheel_leak_mm2") + m.parameter("seal_pto_leak_mm2") + m.parameter("case_gasket_leak_mm2")
    )


def _held(m: Machine) -> FloatArray:
    """All that leaks in the standing test: seals, joints of the intake, a decompression valve."""
    intake = m.parameter("carburettor_joint_leak_mm2") + m.parameter("manifold_leak_mm2")
    if m.trait("intake_boot") == "yes":
        intake = intake + m.parameter("boot_leak_mm2")
    joints = crankcase.static_joint(intake) + crankcase.static_joint(places.decompression(m) + places.joint(m, "edge"))
    return _seals(m) + joints


def _volume(m: Machine) -> float:
    return m.size("crankcase_volume_cm3") * 1e-6


@rule("crankcase_pressure_hold_kpa")
def _pressure_hold(m: Machine) -> FloatArray:
    ambient, kelvin = _air(m)
    area = constants.value("compression_discharge") * _held(m)
    start, seconds = m.setup.get("hold_start_kpa", 48.0) * 1e3, m.setup.get("hold_s", 10.0)
    return crankcase.pressure_left(start, seconds, area, _volume(m), ambient, kelvin) / 1e3


@rule("crankcase_vacuum_hold_kpa")
def _vacuum_hold(m: Machine) -> FloatArray:
    ambient, kelvin = _air(m)
    area = constants.value("compression_discharge") * (_held(m) + m.parameter("seal_vacuum_leak_mm2"))
    start, seconds = m.setup.get("hold_vacuum_kpa", 40.0) * 1e3, m.setup.get("hold_s", 10.0)
    return crankcase.vacuum_left(start, seconds, area, _volume(m), ambient, kelvin) / 1e3


def _bubbles(m: Machine, parameter: str) -> FloatArray:
    ambient, kelvin = _air(m)
    area = constants.value("compression_discharge") * m.parameter(parameter)
    return crankcase.bubbles(area, m.setup.get("hold_start_kpa", 48.0) * 1e3, ambient, kelvin)


@rule("bubbles_flywheel_seal")
def _bubbles_flywheel(m: Machine) -> FloatArray:
    return _bubbles(m, "seal_flywheel_leak_mm2")


@rule("bubbles_pto_seal")
def _bubbles_pto(m: Machine) -> FloatArray:
    return _bubbles(m, "seal_pto_leak_mm2")


@rule("bubbles_case_gasket")
def _bubbles_gasket(m: Machine) -> FloatArray:
    return _bubbles(m, "case_gasket_leak_mm2")


@rule("crankcase_air_leak_mm2")
def _air_leak(m: Machine) -> FloatArray:
    return _two_stroke(m) * (_seals(m) + m.parameter("seal_vacuum_leak_mm2"))


@rule("scavenge_share")
def _scavenge(m: Machine) -> FloatArray:
    leak = constants.value("compression_discharge") * (_seals(m) + m.parameter("reed_leak_mm2"))
    running = m.drive in ("running", "none")
    rpm = np.full(m.count, m.size("rated_speed_rpm")) if running else np.maximum(m.quantity("crank_rpm"), 60.0)
    left = crankcase.scavenged(leak, _volume(m), rpm, constants.value("crankcase_running_k"))
    chip = 1.0 - 0.3 * m.parameter("reed_chip")
    return np.where(_two_stroke(m) > 0.5, left * chip, 1.0)


@rule("pulse_share")
def _pulse(m: Machine) -> FloatArray:
    return m.quantity("scavenge_share")


@rule("reed_spit_back")
def _reed_spit(m: Machine) -> FloatArray:
    half, width = constants.value("crankcase_spit_mm2"), constants.value("crankcase_spit_width_mm2")
    return _two_stroke(m) * np.maximum(
        chance(m.parameter("reed_leak_mm2"), half, width), 0.9 * m.parameter("reed_chip")
    )


def _blow_mm2(m: Machine) -> FloatArray:
    return places.rings(m, False, cranking=True) + places.joint(m, "gallery")


@rule("crankcase_vacuum_kpa")
def _vacuum(m: Machine) -> FloatArray:
    # A filler cap or seal that weeps is too small to matter beside the breather.
    return crankcase.running_vacuum(
        _blow_mm2(m) * (m.size("displacement_cm3") / 160.0) ** -0.5, m.parameter("breather_blocked"),
        m.parameter("breather_open"), m.parameter("oil_level_mm"),
    )  # fmt: skip


@rule("blow_by_l_min")
def _blow_by(m: Machine) -> FloatArray:
    return constants.value("crankcase_blow_l_min_per_mm2") * _blow_mm2(m)


@rule("oil_outside")
def _oil_outside(m: Machine) -> FloatArray:
    """What a weeping seal has left where the owner finds it."""
    return m.parameter("seal_oil_weep")


@rule("oil_in_air_cleaner")
def _oil_in_air_cleaner(m: Machine) -> FloatArray:
    blown = np.maximum(-m.quantity("crankcase_vacuum_kpa"), 0.0) / 1.5
    over = np.maximum(m.parameter("oil_level_mm") - 6.0, 0.0) / 15.0
    tipped = m.parameter("muffler_oil_cm3") / 25.0
    sources = blown + 1.1 * np.maximum(m.parameter("breather_open") - 0.1, 0.0) + over + tipped
    return (1.0 - _two_stroke(m)) * -np.expm1(-sources)
