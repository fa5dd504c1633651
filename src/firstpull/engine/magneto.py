"""Flywheel magneto up to the break: flux against gap and angle, primary current, the moment the trigger lets go.

Seen from the coil, magnets and gaps are a source behind a reluctance. The primary is an R-L circuit driven by the
flux edge that sweeps past; it is stepped over crank angle for all machines at once, each step exact for an emf
that is constant within it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]
_MU0 = 4e-7 * np.pi
STEPS = 80
_BLOCK = 2048


@dataclass(frozen=True, slots=True)
class Edge:
    """The flux curve over crank angle, the same for all machines of one class; angles in degrees from alignment."""

    reversed_lobe: float
    edge: float
    width: float
    outer: float
    outer_width: float

    def flux(self, angle: FloatArray) -> FloatArray:
        """Core flux over its peak."""
        return (1 + self.reversed_lobe) * _plateau(angle, self.edge, self.width) - self.reversed_lobe * _plateau(
            angle, self.outer, self.outer_width
        )

    def slope(self, angle: FloatArray) -> FloatArray:
        """Change of the relative flux per degree."""
        return (1 + self.reversed_lobe) * _plateau_slope(angle, self.edge, self.width) - (
            self.reversed_lobe * _plateau_slope(angle, self.outer, self.outer_width)
        )


def _plateau(angle: FloatArray, edge: float, width: float) -> FloatArray:
    return 0.5 * (np.tanh((angle + edge) / width) - np.tanh((angle - edge) / width))


def _plateau_slope(angle: FloatArray, edge: float, width: float) -> FloatArray:
    return np.asarray(0.5 / width * (np.tanh((angle - edge) / width) ** 2 - np.tanh((angle + edge) / width) ** 2))


def edge(rim_radius_mm: float) -> Edge:
    """The flux curve of a two-leg core on a rim of this radius.

    Args:
        rim_radius_mm: rim radius [mm], scalar.

    Returns:
        The flux curve, angles from alignment [deg], scalar.

    Valid: 50 to 130 mm; the same magnets and core on another rim, so angles scale with 1/radius.
    Source: judgement: tanh edges fitted to a plane finite-element field, 2.7 % rms of the peak.
    """
    scale = 90.0 / rim_radius_mm
    return Edge(
        constants.value("lobe_reversed"),
        scale * constants.value("edge_deg"),
        scale * constants.value("edge_width_deg"),
        scale * constants.value("outer_edge_deg"),
        scale * constants.value("outer_width_deg"),
    )


def core_flux_and_inductance(
    gap_mm: FloatArray, strength: FloatArray, remanence_t: FloatArray, primary_turns: float
) -> tuple[FloatArray, FloatArray]:
    """Peak flux through the coil and the inductance of its primary.

    Args:
        gap_mm: air gap at each leg with rust and paint [mm], shape (N,).
        strength: magnet strength over nominal [1], shape (N,).
        remanence_t: remanence of the magnets [tesla], shape (N,) or scalar.
        primary_turns: turns of the primary [1], scalar.

    Returns:
        Peak core flux [Wb] and primary inductance [H], shape (N,) each.

    Valid: linear iron; gaps of 0.1 to 3 mm.
    Source: textbook magnetic circuit (reluctances in series, leakage beside the magnets); values: judgement.
    """
    length = constants.value("magnet_length_mm") * 1e-3
    recoil = constants.value("magnet_recoil") * _MU0
    magnet = length / (recoil * constants.value("magnet_area_mm2") * 1e-6)
    leak = 1.0 + magnet * constants.value("magnet_leak_nwb") * 1e-9
    gap = gap_mm * 1e-3
    width, depth = constants.value("pole_width_mm") * 1e-3, constants.value("pole_depth_mm") * 1e-3
    gaps = 2.0 * gap / (_MU0 * (width + gap) * (depth + gap))
    loop = magnet / leak + gaps + constants.value("core_reluctance")
    force = strength * remanence_t * length / recoil / leak
    inductance = primary_turns**2 * (1.0 / loop + constants.value("coil_leak_nwb") * 1e-9)
    return force / loop, inductance


@dataclass(frozen=True, slots=True)
class Primary:
    """One coil and trigger each machine; arrays of shape (N,), ohm, henry, weber, ampere.

    `family` 0 lets go at a current, 1 at an angle; `shunt_ohm` is everything that lies across the switch (the
    stop circuit, a leaking condenser); `on_v` and `on_ohm` describe the closed switch.
    """

    flux_wb: FloatArray
    inductance_h: FloatArray
    resistance_ohm: FloatArray
    shunt_ohm: FloatArray
    on_v: FloatArray
    on_ohm: FloatArray
    trigger_a: FloatArray
    family: FloatArray
    angle_deg: FloatArray
    turns: float


@dataclass(frozen=True, slots=True)
class Break:
    """The moment the switch opens: whether it does, the current it cuts, the angle, the emf left then.

    `before_v` is the voltage across the primary turns just before.
    """

    fires: FloatArray
    current_a: FloatArray
    angle_deg: FloatArray
    emf_v: FloatArray
    before_v: FloatArray


def break_of(primary: Primary, rpm: FloatArray, shape: Edge, steps: int = STEPS) -> Break:
    """Primary current over the rising flux edge, and the break.

    Args:
        primary: coil and trigger [ohm, H, Wb, A, V, deg], shape (N,) each.
        rpm: crank speed [rpm], shape (N,).
        shape: the flux curve [deg], scalar.
        steps: steps over the edge [1], scalar.

    Returns:
        Whether it fires (0 or 1) [1], the current cut [A], crank angle from alignment [deg], emf left and voltage
        before [V]; shape (N,) each. Where it does not fire, current and voltages are 0.

    Valid: one magnet pass a turn; 50 to 6000 rpm.
    Source: circuit equations; steps exact for a constant emf (exponential integrator, e.g. Hairer, Wanner, Solving
        Ordinary Differential Equations II); trigger as a current threshold behind a delay: judgement.
    """
    count = len(rpm)
    out = np.zeros((5, count))
    grid = np.linspace(-shape.edge - 4.0 * shape.width, 0.0, steps + 1)
    # Mean slope of the flux over each step: exact, because it is the difference of the flux itself.
    rise = np.diff(shape.flux(grid)) / np.diff(grid)
    for start in range(0, count, _BLOCK):
        part = slice(start, start + _BLOCK)
        out[:, part] = _block(primary, rpm, shape, grid, rise, part)
    return Break(out[0], out[1], out[2], out[3], out[4])


def _block(
    primary: Primary, rpm: FloatArray, shape: Edge, grid: FloatArray, rise: FloatArray, part: slice
) -> FloatArray:
    def of(values: FloatArray) -> FloatArray:
        return values[part] if values.size > 1 else values

    speed = np.maximum(6.0 * rpm[part], 1.0)  # degrees a second
    step_s = (grid[1] - grid[0]) / speed
    drive = primary.turns * of(primary.flux_wb) * speed  # emf per unit of relative slope
    carried = _march(primary, part, step_s, drive, rise)
    delay = np.exp(-step_s / (constants.value("trigger_delay_ms") * 1e-3))
    felt = _felt(carried, delay)
    by_current = _crossing(felt, of(primary.trigger_a))
    at_angle = np.clip((of(primary.angle_deg) - grid[0]) / (grid[1] - grid[0]), 0.0, len(rise) - 1e-9)
    at_angle = np.broadcast_to(at_angle, speed.shape)
    family = of(primary.family) > 0.5
    where = np.where(family, at_angle, by_current)
    fires = where <= len(rise)
    where = np.minimum(where, len(rise) - 1e-9)
    low = where.astype(np.intp)
    share = where - low
    column = np.arange(len(speed))
    cut = carried[low, column] * (1.0 - share) + carried[low + 1, column] * share
    fires &= ~family | (cut >= constants.value("angle_trigger_least_a"))
    angle = grid[0] + where * (grid[1] - grid[0])
    emf = drive * shape.slope(angle)
    switch_v = of(primary.on_v) + of(primary.on_ohm) * cut
    before = switch_v + of(primary.resistance_ohm) * (cut + switch_v / of(primary.shunt_ohm))
    fired = fires.astype(np.float64)
    return np.stack([fired, fired * cut, angle, fired * emf, fired * before])


def _march(
    primary: Primary, part: slice, step_s: FloatArray, drive: FloatArray, rise: FloatArray
) -> FloatArray:
    """The part of the coil current that the switch carries, at every step, shape (steps + 1, N)."""

    def of(values: FloatArray) -> FloatArray:
        return values[part] if values.size > 1 else values

    shunt, on_v, on_ohm = of(primary.shunt_ohm), of(primary.on_v), of(primary.on_ohm)
    resistance, inductance = of(primary.resistance_ohm), of(primary.inductance_h)
    threshold = on_v / shunt
    divider = 1.0 / (1.0 + on_ohm / shunt)
    closed_ohm = resistance + on_ohm * divider
    open_ohm = resistance + shunt
    keep_closed = np.exp(-closed_ohm / inductance * step_s)
    keep_open = np.exp(-open_ohm / inductance * step_s)
    gain_closed = (1.0 - keep_closed) / closed_ohm
    gain_open = drive * (1.0 - keep_open) / open_ohm
    lost = (on_v - on_ohm * divider * threshold) * gain_closed
    gain_closed = drive * gain_closed
    current = np.zeros((len(rise) + 1, len(step_s)))
    other = np.empty(len(step_s))
    conducts = np.empty(len(step_s), dtype=bool)
    for k, slope in enumerate(rise):
        now, after = current[k], current[k + 1]
        np.multiply(now, keep_open, out=other)
        other += gain_open * slope
        np.multiply(now, keep_closed, out=after)
        after += gain_closed * slope
        after -= lost
        np.less(after, threshold, out=conducts)
        np.maximum(other, 0.0, out=other)
        np.copyto(after, other, where=conducts)
    current -= threshold
    current *= divider
    return np.maximum(current, 0.0, out=current)


def _felt(carried: FloatArray, keep: FloatArray) -> FloatArray:
    """What the trigger feels of the current, behind its delay."""
    felt = np.zeros_like(carried)
    take = 0.5 * (1.0 - keep)
    for k in range(1, len(carried)):
        np.multiply(felt[k - 1], keep, out=felt[k])
        felt[k] += take * (carried[k - 1] + carried[k])
    return felt


def _crossing(felt: FloatArray, level: FloatArray) -> FloatArray:
    """Step, with its fraction, at which the felt current first reaches the level; beyond the end when never."""
    reached = felt >= level
    first = reached.argmax(axis=0)
    column = np.arange(felt.shape[1])
    ever = reached[first, column]
    before, at = felt[np.maximum(first - 1, 0), column], felt[first, column]
    share = np.clip((level - before) / np.maximum(at - before, 1e-12), 0.0, 1.0)
    return np.where(ever, first - 1 + share, len(felt) + 1.0)
