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
STEPS = 70
_BEFORE = 3.0  # edge widths before the steepest point at which the march begins; 0.25 % of the rise lies before
_BLOCK = 8192


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
    grid = np.linspace(-shape.edge - _BEFORE * shape.width, 0.0, steps + 1)
    # Mean slope of the flux over each step: exact, because it is the difference of the flux itself.
    rise = np.diff(shape.flux(grid)) / np.diff(grid)
    # One pair of scratch tables for all blocks: fresh memory costs more than the arithmetic.
    scratch = np.zeros((2, steps + 1, min(count, _BLOCK)))
    for start in range(0, count, _BLOCK):
        part = slice(start, min(start + _BLOCK, count))
        tables = scratch[:, :, : part.stop - part.start]
        out[:, part] = _block(_part(primary, part), rpm[part], shape, grid, rise, tables)
    return Break(*out)


def _part(primary: Primary, part: slice) -> Primary:
    """These machines only; arrays of length 1 stand for all."""

    def of(values: FloatArray) -> FloatArray:
        return values[part] if values.size > 1 else values

    p = primary
    return Primary(
        of(p.flux_wb), of(p.inductance_h), of(p.resistance_ohm), of(p.shunt_ohm), of(p.on_v), of(p.on_ohm),
        of(p.trigger_a), of(p.family), of(p.angle_deg), p.turns,
    )  # fmt: skip


def _block(
    primary: Primary, rpm: FloatArray, shape: Edge, grid: FloatArray, rise: FloatArray, tables: FloatArray
) -> FloatArray:
    speed = np.maximum(6.0 * rpm, 1.0)  # degrees a second
    step_deg = grid[1] - grid[0]
    drive = np.maximum(primary.turns * primary.flux_wb * speed, 1e-6)  # emf per unit of relative slope
    carried, felt = tables
    _march(primary, step_deg / speed, drive, rise, carried)
    keep = np.exp(-step_deg / speed / (constants.value("trigger_delay_ms") * 1e-3))
    by_current = _crossing(carried, felt, keep, primary.trigger_a)
    at_angle = np.clip((primary.angle_deg - grid[0]) / step_deg, 0.0, len(rise) - 1e-9)
    family = np.broadcast_to(primary.family > 0.5, speed.shape)
    where = np.where(family, at_angle, by_current)
    fires = where <= len(rise)
    where = np.minimum(where, len(rise) - 1e-9)
    low = where.astype(np.intp)
    share = where - low
    column = np.arange(len(speed))
    cut = carried[low, column] * (1.0 - share) + carried[low + 1, column] * share
    fires &= ~family | (cut >= constants.value("angle_trigger_least_a"))
    angle = grid[0] + where * step_deg
    emf = drive * shape.slope(angle)
    switch_v = primary.on_v + primary.on_ohm * cut
    before = switch_v + primary.resistance_ohm * (cut + switch_v / primary.shunt_ohm)
    fired = fires.astype(np.float64)
    return np.stack([fired, fired * cut, angle, fired * emf, fired * before])


def _march(primary: Primary, step_s: FloatArray, drive: FloatArray, rise: FloatArray, out: FloatArray) -> None:
    """The part of the coil current that the switch carries, at every step, into a table (steps + 1, N).

    While the switch conducts, current = gain * (w - rest) with w following w' = keep * w + slope: two operations a
    step. A machine whose switch does not conduct yet feeds only the leak across it and is put right one by one.
    """
    threshold = primary.on_v / primary.shunt_ohm
    divider = 1.0 / (1.0 + primary.on_ohm / primary.shunt_ohm)
    closed_ohm = primary.resistance_ohm + primary.on_ohm * divider
    open_ohm = primary.resistance_ohm + primary.shunt_ohm
    keep = np.exp(-closed_ohm / primary.inductance_h * step_s)
    keep_open = np.exp(-open_ohm / primary.inductance_h * step_s)
    gain = drive * (1.0 - keep) / closed_ohm
    gain_open = drive * (1.0 - keep_open) / open_ohm
    rest = (primary.on_v - primary.on_ohm * divider * threshold) / (gain * closed_ohm)
    floor = rest + threshold / gain
    open_gain, open_rest = gain_open / gain, rest * (1.0 - keep_open)
    below = np.empty(len(step_s), dtype=bool)
    out[0] = rest
    for k, slope in enumerate(rise):
        now, after = out[k], out[k + 1]
        np.multiply(now, keep, out=after)
        after += slope
        np.less(after, floor, out=below)
        waiting = np.count_nonzero(below)
        if 4 * waiting > below.size:
            np.copyto(after, np.maximum(now * keep_open + (open_gain * slope + open_rest), rest), where=below)
        elif waiting:
            at = np.flatnonzero(below)
            fed = now[at] * keep_open[at] + (open_gain[at] * slope + open_rest[at])
            after[at] = np.maximum(fed, rest[at])
    out -= floor
    out *= gain * divider
    np.maximum(out, 0.0, out=out)


def _crossing(carried: FloatArray, felt: FloatArray, keep: FloatArray, level: FloatArray) -> FloatArray:
    """Step, with its fraction, at which the current behind the delay reaches the level; beyond the end when never.

    The delayed current is kept in units of half of what one step lets through.
    """
    level = level / (0.5 * (1.0 - keep))
    pushed = np.empty(len(keep))
    waiting = np.ones(len(keep), dtype=bool)
    first = np.zeros(len(keep), dtype=np.intp)
    felt[0] = 0.0
    for k in range(1, len(carried)):
        first += waiting
        np.multiply(felt[k - 1], keep, out=felt[k])
        np.add(carried[k - 1], carried[k], out=pushed)
        felt[k] += pushed
        waiting &= felt[k] < level
    column = np.arange(len(keep))
    before, at = felt[first - 1, column], felt[first, column]
    share = np.clip((level - before) / np.maximum(at - before, 1e-12), 0.0, 1.0)
    return np.where(waiting, len(carried) + 1.0, first - 1 + share)
