"""Wires what the engine drives: drag, inertia, shaking, belts, clutches, the work done."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, driven_load, pump
from firstpull.engine.machine import Machine, rule
from firstpull.engine.stop_circuit import step_up
from firstpull.engine.wiring.variants import at_load

FloatArray = NDArray[np.float64]
_BLADES = ("blade", "cutter", "fan")


def rigid(m: Machine) -> bool:
    """Whether the tool turns with the crank: no belt, no clutch between."""
    return m.trait("belt") == "no" and m.trait("clutch") == "no" and m.trait("blade_clutch") == "no"


def _load_on(m: Machine) -> float:
    return 0.0 if m.off("load") or (m.trait("belt") == "yes" and m.off("belt")) else 1.0


def _tool_on(m: Machine) -> FloatArray:
    off = m.off("blade") and m.trait("driven_load") in (*_BLADES, "chain", "tines", "auger")
    return (1.0 - m.parameter("blade_missing")) * (0.0 if off else 1.0)


def _tool_drag(m: Machine) -> FloatArray:
    """Drag of a tool that turns with the crank."""
    jam = constants.value("jam_nm") * np.maximum(m.parameter("object_jammed"), m.parameter("tool_jammed"))
    packed = constants.value("packed_nm") * m.parameter("deck_packed") ** 2
    held = 1.0 - np.maximum(m.parameter("blade_loose"), m.parameter("shear_pin_gone"))
    return (jam + packed) * held * _tool_on(m)


@rule("drag_torque_nm")
def drag_torque_nm(m: Machine) -> FloatArray:
    """Brake, jams, belts that do not let go, a seized or pressed load; how far each reaches the crank."""
    reaches = np.ones(m.count) if rigid(m) else np.zeros(m.count)
    if m.trait("belt") == "yes":
        reaches = 1.0 - m.quantity("belt_lets_go")
    if m.trait("clutch") == "yes":
        reaches = step_up(m.parameter("clutch_spring_weak"), 0.9, 0.03)
    if m.trait("blade_clutch") == "yes":
        reaches = m.parameter("blade_clutch_drag")
    drag = _tool_drag(m) * reaches
    if m.trait("belt") == "yes":
        drag = drag + constants.value("belt_drag_nm") * reaches * (1.0 - m.parameter("belt_off"))
    if m.trait("blade_clutch") == "yes":
        drag = drag + constants.value("clutch_drag_nm") * m.parameter("blade_clutch_drag")
    if m.trait("driven_load") in ("pump", "washer", "splitter"):
        drag = drag + constants.value("seized_load_nm") * m.parameter("load_seized") * reaches
    if m.trait("driven_load") == "washer":
        drag = drag + pump.trapped_torque_nm(m.parameter("trapped_pressure_kpa"), m.size("pump_displacement_cm3"))
    if m.trait("driven_load") == "generator":
        drag = drag + constants.value("generator_drag_nm")
    return drag * _load_on(m) + m.quantity("brake_on_crank_nm")


@rule("inertia_kgm2")
def inertia_kgm2(m: Machine) -> FloatArray:
    """Flywheel and whatever turns rigidly with it."""
    tool = m.size("blade_inertia_kgm2") * _tool_on(m) * (1.0 - m.parameter("blade_loose")) * _load_on(m)
    return m.size("flywheel_inertia_kgm2") + tool * (1.0 if rigid(m) else 0.0)


@rule("tool_imbalance_gmm")
def tool_imbalance_gmm(m: Machine) -> FloatArray:
    """Imbalance of the tool as it sits: its own, bent, cracked, loose, on a bent shaft."""
    shaft = constants.value("runout_g") * m.parameter("shaft_runout_mm")
    loose = constants.value("loose_gmm") * m.parameter("blade_loose")
    return (m.quantity("blade_balance_gmm") + loose + shaft) * _tool_on(m) * _load_on(m)


@rule("blade_balance_gmm")
def blade_balance_gmm(m: Machine) -> FloatArray:
    """Imbalance of the blade on a balancer."""
    bent = constants.value("bent_gmm") * m.parameter("blade_bent")
    return m.parameter("blade_imbalance_gmm") + bent + constants.value("crack_gmm") * m.parameter("blade_crack")


@rule("vibration_mm_s")
def vibration_mm_s(m: Machine) -> FloatArray:
    """Shaking of deck or handle at working speed, effective value."""
    shaft = 40.0 * m.parameter("shaft_runout_mm")
    speed = m.quantity("loaded_rpm")
    return driven_load.shaking_mm_s(
        m.quantity("tool_imbalance_gmm") + shaft,
        speed,
        m.size("machine_mass_kg"),
        m.parameter("mounts_loose"),
    )


@rule("shaft_wobble_mm")
def shaft_wobble_mm(m: Machine) -> FloatArray:
    """Total indicator reading at the blade seat, turned by hand."""
    return m.parameter("shaft_runout_mm")


@rule("clutch_bite_rpm")
def clutch_bite_rpm(m: Machine) -> FloatArray:
    """Speed at which the tool begins to turn."""
    if m.trait("clutch") == "no":
        return np.zeros(m.count)
    return driven_load.clutch_bite_rpm(m.parameter("clutch_bite_set_rpm"), m.parameter("clutch_spring_weak"))


@rule("tool_creep")
def tool_creep(m: Machine) -> FloatArray:
    """Only tools that should stand while the engine idles can creep."""
    if m.trait("clutch") == "yes":
        return driven_load.creeps(m.quantity("idle_rpm"), m.quantity("clutch_bite_rpm"))
    if m.trait("belt") == "yes":
        return 1.0 - m.quantity("belt_lets_go")
    if m.trait("blade_clutch") == "yes":
        return m.parameter("blade_clutch_drag")
    return np.zeros(m.count)


@rule("belt_grip")
def belt_grip(m: Machine) -> FloatArray:
    """Share of the full load torque that the drive can pass on, 0 to 1 and above capped."""
    if m.trait("clutch") == "yes":
        grip = constants.value("clutch_new_grip") * (1.0 - m.parameter("clutch_shoe_wear"))
        return np.clip(grip, 0.0, 1.0)
    clutch = 1.0 - m.parameter("blade_clutch_slip") if m.trait("blade_clutch") == "yes" else np.ones(m.count)
    if m.trait("belt") == "no":
        return clutch
    belt = driven_load.belt_grip(m.parameter("belt_slack"), m.parameter("belt_glaze"), m.parameter("belt_off"))
    return np.minimum(clutch, belt)  # one behind the other: the weaker decides


@rule("belt_lets_go")
def belt_lets_go(m: Machine) -> FloatArray:
    """How surely the drive lets go when released, 0 keeps driving to 1 at once."""
    if m.trait("belt") == "no":
        return np.ones(m.count)
    return 1.0 - np.maximum(m.parameter("belt_wrong"), 0.0) * (1.0 - m.parameter("belt_off"))


@rule("load_torque_share")
def load_torque_share(m: Machine) -> FloatArray:
    """Load over that of a clean sharp machine; nothing where the drive does not pass it on."""
    if m.off("load"):
        return np.zeros(m.count)
    more = constants.value("packed_load") * m.parameter("deck_packed") + constants.value("blunt_load") * m.parameter(
        "blade_blunt"
    )
    more = more + constants.value("upside_down_load") * m.parameter("blade_upside_down")
    jam = 3.0 * np.maximum(m.parameter("object_jammed"), m.parameter("tool_jammed"))
    drive = (1.0 - m.parameter("shear_pin_gone")) * (1.0 - m.parameter("blade_loose"))
    brake = m.quantity("brake_drag_share")
    return (1.0 + more + jam) * m.quantity("belt_grip") * drive * _tool_on(m) + brake


@rule("tool_works")
def tool_works(m: Machine) -> FloatArray:
    """Work done at full load: drive, tool, speed kept."""
    kind = m.trait("driven_load")
    if kind in ("pump", "washer"):
        return m.quantity("pump_flow_share")
    if kind == "generator":
        return 1.0 - m.quantity("no_output")
    full = at_load(m, "full")
    kept = 0.7 if m.trait("governor_kind") == "none" else 0.85
    pace = np.clip(full.quantity("loaded_rpm") / m.size("usual_top_rpm") / kept, 0.0, 1.0) ** 2
    drive = m.quantity("belt_grip") * (1.0 - m.parameter("shear_pin_gone")) * (1.0 - m.parameter("gearbox_wear"))
    edge = 1.0 - 0.5 * m.parameter("blade_blunt") ** 2 - 0.45 * m.parameter("blade_upside_down")
    held = (1.0 - m.parameter("blade_loose")) * (
        1.0 - np.maximum(m.parameter("tool_jammed"), m.parameter("object_jammed"))
    )
    return pace * drive * np.clip(edge, 0.0, 1.0) * held * _tool_on(m)


@rule("tip_speed_m_s")
def tip_speed_m_s(m: Machine) -> FloatArray:
    """Speed of the blade tip at fast, no load."""
    return driven_load.tip_speed_m_s(m.size("blade_length_mm"), m.quantity("top_rpm")) * _tool_on(m)


@rule("blade_knock")
def blade_knock(m: Machine) -> FloatArray:
    """Chance that a loose blade, mount or pin is heard or felt."""
    loud = np.maximum(m.parameter("blade_loose") * _tool_on(m), 0.8 * m.parameter("mounts_loose"))
    return np.maximum(loud, 0.7 * m.parameter("gearbox_wear"))
