"""Wires filter, joints and boots."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import air_intake, constants
from firstpull.engine.machine import Machine, rule
from firstpull.engine.mixture import torque_share
from firstpull.engine.wiring.variants import without

FloatArray = NDArray[np.float64]


@rule("filter_closed")
def filter_closed(m: Machine) -> FloatArray:
    """Share of the element closed; nothing where it is off or missing."""
    if m.off("air-cleaner") or m.off("carburettor"):
        return np.zeros(m.count)
    closed = air_intake.filter_closed_share(m.parameter("filter_blockage"), m.parameter("filter_oily"))
    return closed * (1.0 - m.parameter("filter_missing"))


@rule("filter_drop_kpa")
def filter_drop_kpa(m: Machine) -> FloatArray:
    """Suction behind the air filter at full air flow."""
    return 1e-3 * air_intake.filter_drop_pa(m.quantity("filter_closed")) * m.quantity("air_share") ** 2


@rule("air_share")
def air_share(m: Machine) -> FloatArray:
    """Air drawn at full throttle over that of a clean air way."""
    return air_intake.air_share(air_intake.filter_drop_pa(m.quantity("filter_closed")), m.parameter("intake_debris"))


@rule("boot_leak_now_mm2")
def boot_leak_now_mm2(m: Machine) -> FloatArray:
    """Leak of the boot, where there is one."""
    return m.parameter("boot_leak_mm2") * (1.0 if m.trait("intake_boot") == "yes" else 0.0)


@rule("flange_leak_mm2")
def flange_leak_mm2(m: Machine) -> FloatArray:
    """Leak at the carburettor joint, its screws included."""
    return m.parameter("carburettor_joint_leak_mm2") + constants.value("loose_leak_mm2") * m.parameter(
        "carburettor_loose"
    )


@rule("manifold_leak_now_mm2")
def manifold_leak_now_mm2(m: Machine) -> FloatArray:
    """Leak at manifold and spacer, cracks included."""
    return m.parameter("manifold_leak_mm2") + constants.value("crack_leak_mm2") * m.parameter("manifold_crack")


@rule("intake_leak_mm2")
def intake_leak_mm2(m: Machine) -> FloatArray:
    """All air that enters between throttle and engine unmetered."""
    shaft = constants.value("shaft_leak_mm2") * m.parameter("throttle_shaft_wear") ** 2
    plate = constants.value("plate_leak_mm2") * m.parameter("throttle_plate_loose")
    case = m.quantity("crankcase_air_leak_mm2") if m.trait("cycle") == "two-stroke" else 0.0
    joints = m.quantity("flange_leak_mm2") + m.quantity("manifold_leak_now_mm2") + m.quantity("boot_leak_now_mm2")
    return joints + shaft + plate + case


@rule("carburettor_joint_bubbles")
def carburettor_joint_bubbles(m: Machine) -> FloatArray:
    """Bubbles at the carburettor joint under a small pressure, 0 none to 1 strong."""
    return air_intake.bubbles(m.quantity("flange_leak_mm2"))


@rule("manifold_bubbles")
def manifold_bubbles(m: Machine) -> FloatArray:
    """Bubbles at manifold or spacer under a small pressure, 0 none to 1 strong."""
    return air_intake.bubbles(m.quantity("manifold_leak_now_mm2"))


@rule("boot_bubbles")
def boot_bubbles(m: Machine) -> FloatArray:
    """Bubbles at the intake boot under a small pressure, 0 none to 1 strong."""
    return air_intake.bubbles(m.quantity("boot_leak_now_mm2"))


@rule("better_without_filter")
def better_without_filter(m: Machine) -> FloatArray:
    """How much better it runs with the air cleaner off, 0 no change to 1 cured."""
    free = without(m, "air-cleaner")
    before = torque_share(m.quantity("run_mixture_phi")) * m.quantity("air_share")
    after = torque_share(free.quantity("run_mixture_phi")) * free.quantity("air_share")
    return np.clip(1.4 * (after - before), 0.0, 1.0)
