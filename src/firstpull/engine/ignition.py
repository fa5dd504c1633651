"""The coil after the break: secondary voltage, stored energy, spark angle; what meters and hands read on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.magneto import Break

FloatArray = NDArray[np.float64]


def ring_peak(damping: FloatArray, start: FloatArray, slope: FloatArray) -> FloatArray:
    """First peak of a free damped oscillation y'' + 2 z y' + y = 0 that is on its way up.

    Args:
        damping: damping ratio z [1], shape (N,).
        start: y at the start [V], shape (N,).
        slope: y' at the start, in natural time, above 0 [V], shape (N,).

    Returns:
        The peak; 0 where an overdamped one creeps up from below and never crosses [V], shape (N,).

    Valid: damping from 0 upward; both branches meet at 1. From start 0 the height is slope exp(-z acos(z) /
        sqrt(1 - z^2)), 1/e of the slope at critical damping.
    Source: any text on linear differential equations; the peak follows from y' = 0.
    """
    z = np.maximum(damping, 0.0)
    low = np.minimum(z, 1.0 - 1e-7)
    turn = np.sqrt(1.0 - low**2)
    swing_time = np.arctan2(slope * turn, low * slope + start) / turn
    high = np.maximum(z, 1.0 + 1e-7)
    part = np.sqrt(high**2 - 1.0)
    slow = slope / (high + part) + start
    creep_time = 0.5 * np.log(np.maximum((slope * (high + part) + start) / np.maximum(slow, 1e-30), 1.0)) / part
    height = np.sqrt(np.maximum(slope**2 + 2.0 * z * slope * start + start**2, 0.0))
    swings = z < 1.0
    peak = height * np.exp(-z * np.where(swings, swing_time, creep_time))
    return np.asarray(np.where(swings | (slow > 0.0), peak, 0.0))


@dataclass(frozen=True, slots=True)
class Secondary:
    """What hangs on the secondary and on the opened primary; arrays of shape (N,), ohm, farad, henry.

    `fouling_ohm` lies across the plug, `lead_leak_ohm` from lead to frame, `shunt_ohm` across the opened switch.
    """

    turns_ratio: FloatArray
    primary_h: FloatArray
    primary_ohm: FloatArray
    secondary_ohm: FloatArray
    secondary_f: FloatArray
    primary_f: FloatArray
    core_loss_ohm: FloatArray
    shorted: FloatArray
    shunt_ohm: FloatArray
    fouling_ohm: FloatArray
    lead_leak_ohm: FloatArray
    clamp_v: FloatArray
    bias_ohm: FloatArray


def open_circuit_kv(coil: Secondary, cut: Break) -> FloatArray:
    """Peak secondary voltage with no gap breaking down.

    Everything is referred to the secondary: a coil with a starting current, its capacitance, and every leak as a
    shunt. A shorted share f of the turns acts as a shunt of R2/f. Only the current that the switch carried is cut.
    The emf goes on pushing, so the swing is about the emf and not about zero; in a coil that a heavy leak makes
    slow the emf fades before it can push.

    Args:
        coil: coil and leaks [ohm, F, H, V], shape (N,) each.
        cut: current, emf and voltage at the break [A, V], shape (N,) each.

    Returns:
        Peak voltage [kV], shape (N,).

    Valid: first peak of a linear circuit; above the clamp of the switch half of the rest arrives (fitted).
    Source: linear circuit theory; reduction and clamp checked against a transistor-level circuit.
    """
    coupling = 1.0 - constants.value("coupling_loss")
    ratio = coil.turns_ratio * (1.0 - coil.shorted)
    inductance = ratio**2 * coil.primary_h
    capacitance = coil.secondary_f + coil.primary_f / ratio**2
    wave_ohm, natural_s = np.sqrt(inductance / capacitance), np.sqrt(inductance * capacitance)
    # Winding resistance and leakage reactance shield the core flux from a leak across the primary; the reactance
    # counts less where the leak is so heavy that the current hardly changes at the break.
    reactance = (1.0 - coupling**2) * coil.primary_h / natural_s
    winding = coil.shunt_ohm + coil.primary_ohm
    shielded = winding + reactance / (1.0 + (reactance / winding) ** 2)
    primary_side = 1.0 / shielded + 1.0 / coil.bias_ohm
    leaks = 1.0 / coil.fouling_ohm + 1.0 / coil.lead_leak_ohm + 1.0 / coil.core_loss_ohm
    conductance = leaks + primary_side / ratio**2 + coil.shorted / coil.secondary_ohm
    damping = 0.5 * (wave_ohm * conductance + 0.5 * coil.secondary_ohm / wave_ohm)
    emf = ratio * cut.emf_v
    start = ratio * (coupling * cut.before_v + (1.0 - coupling) * cut.emf_v)
    slope = wave_ohm * np.maximum(coupling * cut.current_a / ratio - leaks * start, 0.0) + 1e-9
    at_once = start + slope / (2.0 * damping + 1.0)
    slowness = damping**2 / (1.0 + damping**2)
    pushed = emf + slowness * (np.minimum(at_once, emf) - emf)
    peak = np.where(cut.current_a > 0.0, pushed + ring_peak(damping, start - pushed, slope), 0.0)
    top = ratio * coil.clamp_v
    return np.asarray(1e-3 * (np.minimum(peak, top) + constants.value("clamp_leaves") * np.maximum(peak - top, 0.0)))


def stored_mj(primary_h: FloatArray, current_a: FloatArray) -> FloatArray:
    """Energy that the break can hand to the secondary.

    Args:
        primary_h: primary inductance [H], shape (N,).
        current_a: current cut [A], shape (N,).

    Returns:
        Energy in thousandths of a joule [mJ], shape (N,).

    Valid: coupled share of the field energy.
    Source: field energy of an inductor, any text on circuits.
    """
    return 500.0 * (1.0 - constants.value("coupling_loss")) ** 2 * primary_h * current_a**2


def spark_btdc(
    design_deg: float,
    break_deg: FloatArray,
    nominal_break_deg: FloatArray,
    late_deg: FloatArray,
    key_offset_deg: FloatArray,
) -> FloatArray:
    """Spark angle before top dead centre.

    Args:
        design_deg: as designed [deg], scalar.
        break_deg: crank angle of the break from magnet alignment [deg], shape (N,).
        nominal_break_deg: the same of a nominal machine of this trigger family at 600 rpm [deg], shape (N,).
        late_deg: late by a wrong or reversed coil or trigger [deg], shape (N,).
        key_offset_deg: flywheel turned early on the crank [deg], shape (N,).

    Returns:
        Spark before top dead centre, below 0 = after it [deg], shape (N,).

    Valid: one pass a turn.
    Source: geometry.
    """
    return design_deg - (break_deg - nominal_break_deg) - late_deg + key_offset_deg


def key_step_mm(key_offset_deg: FloatArray, taper_radius_mm: float) -> FloatArray:
    """Step that shows between the keyways of crank and flywheel.

    Args:
        key_offset_deg: turn of the flywheel on the crank [deg], shape (N,).
        taper_radius_mm: radius of the taper at the keyway [mm], scalar.

    Returns:
        Step along the arc [mm], shape (N,).

    Valid: any angle.
    Source: geometry.
    """
    return np.abs(np.deg2rad(key_offset_deg)) * taper_radius_mm


def magnet_pull_mm(strength: FloatArray, rust_mm: FloatArray) -> FloatArray:
    """Distance from which the magnets draw the blade of a screwdriver.

    Args:
        strength: magnet strength over nominal [1], shape (N,).
        rust_mm: dirt on the magnets [mm], shape (N,).

    Returns:
        Distance [mm], shape (N,).

    Valid: strength 0.2 to 1.3. The force on soft iron goes as field squared and the field of a small dipole as
        distance to the minus third power, so distance goes as the third root of strength.
    Source: dipole field, any text on magnetism; nominal 3/4 in: common practice, no source.
    """
    return np.maximum(constants.value("magnet_pull_nominal_mm") * np.cbrt(np.maximum(strength, 0.0)) - rust_mm, 0.0)
