"""Flywheel magneto up to the break: flux against gap and angle, primary current, the moment the trigger lets go.

Seen from the coil, magnets and gaps are a source behind a reluctance. The primary is an R-L circuit driven by the
flux edge that sweeps past; it is stepped over crank angle for all machines at once, each step exact for an emf
that is constant within it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.blocks import Precision, blocks

FloatArray = NDArray[np.float64]
Rough = NDArray[np.floating[Any]]
_MU0 = 4e-7 * np.pi
STEPS = 70
_BEFORE = 3.0  # edge widths before the steepest point at which the march begins; 0.25 % of the rise lies before
_BLOCK = 20_480  # machines at once: long enough that calls cost little, short enough to stay near the cache


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


def break_of(
    primary: Primary, rpm: FloatArray, shape: Edge, steps: int = STEPS, precision: Precision = np.float64
) -> Break:
    """Primary current over the rising flux edge, and the break.

    Args:
        primary: coil and trigger [ohm, H, Wb, A, V, deg], shape (N,) each.
        rpm: crank speed [rpm], shape (N,).
        shape: the flux curve [deg], scalar.
        steps: steps over the edge [1], scalar.
        precision: of the march, float64, or float32 in less time [1], scalar.

    Returns:
        Whether it fires (0 or 1) [1], the current cut [A], crank angle from alignment [deg], emf left and voltage
        before [V]; shape (N,) each. Where it does not fire, current and voltages are 0.

    Valid: one magnet pass a turn; 50 to 6000 rpm; float32 within 2e-4 of the current or 2e-4 A of float64, 99 in 100
        within 1e-4 deg and the rest within 5e-3 deg; 2 in 10,000 may differ in whether they fire (tested).
    Source: circuit equations; steps exact for a constant emf (exponential integrator, e.g. Hairer, Wanner, Solving
        Ordinary Differential Equations II); trigger as a current threshold behind a delay: judgement.
    """
    count = len(rpm)
    out = np.zeros((5, count))
    grid = np.linspace(-shape.edge - _BEFORE * shape.width, 0.0, steps + 1)
    # Mean slope of the flux over each step: exact, because it is the difference of the flux itself.
    rise = np.diff(shape.flux(grid)) / np.diff(grid)
    for part in blocks(count, _BLOCK):
        out[:, part] = _block(_part(primary, part), rpm[part], shape, grid, rise, precision)
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
    primary: Primary, rpm: FloatArray, shape: Edge, grid: FloatArray, rise: FloatArray, precision: Precision
) -> FloatArray:
    speed = np.maximum(6.0 * rpm, 1.0)  # degrees a second
    step_deg = grid[1] - grid[0]
    drive = np.maximum(primary.turns * primary.flux_wb * speed, 1e-6)  # emf per unit of relative slope
    at_angle = np.clip((primary.angle_deg - grid[0]) / step_deg, 0.0, len(rise) - 1e-9)
    family = np.broadcast_to(primary.family > 0.5, speed.shape)
    where, cut = _march(primary, step_deg / speed, drive, rise, np.where(family, at_angle, np.inf), precision)
    fires = where <= len(rise)
    where = np.minimum(where, len(rise) - 1e-9)
    fires &= ~family | (cut >= constants.value("angle_trigger_least_a"))
    angle = grid[0] + where * step_deg
    emf = drive * shape.slope(angle)
    switch_v = primary.on_v + primary.on_ohm * cut
    before = switch_v + primary.resistance_ohm * (cut + switch_v / primary.shunt_ohm)
    fired = fires.astype(np.float64)
    return np.stack([fired, fired * cut, angle, fired * emf, fired * before])


def _march(
    primary: Primary, step_s: FloatArray, drive: FloatArray, rise: FloatArray, at_step: FloatArray, precision: Precision
) -> tuple[FloatArray, FloatArray]:
    """Step, with its fraction, at which each switch opens, beyond the end when never; and the current it cuts.

    While the switch conducts, its current over `unit` is v, and v' = keep * v + slope - brake. Below 0 it does not
    conduct: the coil then feeds only the leak across it. What the trigger feels follows the current behind a delay, in
    units of half of what one step lets through. Who has opened leaves the march. `at_step` is finite where a trigger
    opens at an angle, whatever the current.
    """
    count = len(step_s)
    threshold = primary.on_v / primary.shunt_ohm
    divider = 1.0 / (1.0 + primary.on_ohm / primary.shunt_ohm)
    closed_ohm = primary.resistance_ohm + primary.on_ohm * divider
    open_ohm = primary.resistance_ohm + primary.shunt_ohm
    keep = np.exp(-closed_ohm / primary.inductance_h * step_s)
    keep_open = np.exp(-open_ohm / primary.inductance_h * step_s)
    gain = drive * (1.0 - keep) / closed_ohm
    rest = (primary.on_v - primary.on_ohm * divider * threshold) / (gain * closed_ohm)
    bottom = -threshold / gain
    floor = rest - bottom
    open_gain = drive * (1.0 - keep_open) / open_ohm / gain
    unit = gain * divider
    lag = np.exp(-step_s / (constants.value("trigger_delay_ms") * 1e-3))
    by_current = np.where(np.isinf(at_step), primary.trigger_a / (0.5 * (1.0 - lag)) / unit, np.inf)
    going = _Going(
        precision, keep, (1.0 - keep) * floor, keep_open, open_gain, (rest - floor) * (1.0 - keep_open), bottom, lag,
        by_current, at_step,
    )  # fmt: skip
    where, cut = np.full(count, len(rise) + 1.0), np.zeros(count)
    for k, slope in enumerate(rise):
        going.advance(float(slope))
        for found, share in going.opening(k):
            at = going.who[found]
            where[at] = k + share
            cut[at] = going.was[found] * (1.0 - share) + going.now[found] * share
            going.leave(found)
        if not going.left:
            break
        if 2 * going.left < going.who.size:
            going.close_ranks()
    return where, cut * unit


class _Going:
    """The machines of a block whose switch has not opened yet."""

    def __init__(self, precision: Precision, *given: FloatArray) -> None:
        """Keep while closed, brake, keep and gain while open, its pull, its bottom, lag, level, step of the angle."""
        count = max(values.size for values in given)
        self.rows = np.empty((len(given), count), dtype=precision)
        for row, values in zip(self.rows, given, strict=True):
            row[:] = values
        self.who = np.arange(count)
        self.left = count
        self.feels = False
        self.stops = frozenset(np.unique(self.rows[8][np.isfinite(self.rows[8])].astype(int)).tolist())
        self.v = self.rows[5].copy()
        self.now, self.felt = np.zeros_like(self.v), np.zeros_like(self.v)
        self._fresh()

    def _fresh(self) -> None:
        self.was, self.felt_before, self.next = np.zeros_like(self.v), np.zeros_like(self.v), np.empty_like(self.v)
        self.mask = np.empty(self.v.size, dtype=bool)

    def advance(self, slope: float) -> None:
        """One step of the current and of what the trigger feels."""
        keep, brake, _, _, _, _, lag, _, _ = self.rows
        np.multiply(self.v, keep, out=self.next)
        self.next += slope
        self.next -= brake
        np.less(self.next, 0.0, out=self.mask)
        below = int(np.count_nonzero(self.mask))
        if below:
            self._feed_leak(slope, below)
        self.v, self.next = self.next, self.v
        if not self.feels and below == self.mask.size:
            return
        self.feels = True
        self.was, self.now = self.now, self.was
        np.maximum(self.v, 0.0, out=self.now)
        self.felt, self.felt_before = self.felt_before, self.felt
        np.multiply(self.felt_before, lag, out=self.felt)
        self.felt += self.was
        self.felt += self.now

    def _feed_leak(self, slope: float, below: int) -> None:
        """Put right, where the switch does not conduct, what was stepped as if it did."""
        _, _, keep_open, gain, pull, bottom, _, _, _ = self.rows
        if 4 * below > self.mask.size:
            fed = self.v * keep_open
            fed += gain * slope
            fed += pull
            np.maximum(fed, bottom, out=fed)
            np.copyto(self.next, fed, where=self.mask)
        else:
            at = np.flatnonzero(self.mask)
            self.next[at] = np.maximum(self.v[at] * keep_open[at] + (gain[at] * slope + pull[at]), bottom[at])

    def opening(self, k: int) -> Iterator[tuple[NDArray[np.intp], Rough]]:
        """Which open within this step, and at which share of it: at their angle, or at their level."""
        if k in self.stops:
            found = np.flatnonzero((self.rows[8] >= k) & (self.rows[8] < k + 1))
            yield found, self.rows[8][found] - k
        if self.feels:
            level = self.rows[7]
            np.greater_equal(self.felt, level, out=self.mask)
            if self.mask.any():
                found = np.flatnonzero(self.mask)
                before = self.felt_before[found]
                share = (level[found] - before) / np.maximum(self.felt[found] - before, 1e-12)
                yield found, np.clip(share, 0.0, 1.0)

    def leave(self, found: NDArray[np.intp]) -> None:
        """These have opened."""
        self.rows[7][found] = self.rows[8][found] = np.inf
        self.left -= found.size
        self.who[found] = -1

    def close_ranks(self) -> None:
        """Go on with those that are left."""
        stay = np.flatnonzero(self.who >= 0)
        self.who, self.rows = self.who[stay], self.rows.take(stay, axis=1)
        self.v, self.now, self.felt = self.v[stay], self.now[stay], self.felt[stay]
        self._fresh()
