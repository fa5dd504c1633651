"""The march of a compression stroke with leaks, release and warm walls, for many machines at once.

The state is kept as logarithms (pressure times volume to the gamma, and mass), so that the adiabatic part is exact
whatever the step; leak and heat are integrated by Heun's rule over a fixed grid of crank angles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.orifice import AIR_GAMMA, AIR_GAS_CONSTANT, CHOKED, CRITICAL

FloatArray = NDArray[np.float64]
Room = NDArray[np.floating[Any]]
_MOST_COOLED = 0.3  # of the logarithm of pressure within one step


@dataclass(frozen=True, slots=True)
class Geometry:
    """Cylinder of a machine class: displacement [m3], bore [m], stroke [m], crank radius over rod length [1]."""

    displacement_m3: float
    bore_m: float
    stroke_m: float
    crank_to_rod: float

    @property
    def piston_m2(self) -> float:
        """Area of the piston [m2]."""
        return float(np.pi * self.bore_m**2 / 4.0)


@dataclass(frozen=True, slots=True)
class Stroke:
    """What goes into one compression stroke, each of shape (N,) and in SI unless named otherwise."""

    begin_deg: FloatArray
    clearance_m3: FloatArray
    speed_rpm: FloatArray
    leak_mm2: FloatArray
    release_mm2: FloatArray
    release_ends_deg: FloatArray
    inlet_pa: FloatArray
    inlet_k: FloatArray
    wall_k: FloatArray
    ambient_pa: FloatArray

    def part(self, where: slice) -> Stroke:
        """The machines of a slice, shape kept."""
        return Stroke(
            self.begin_deg[where], self.clearance_m3[where], self.speed_rpm[where], self.leak_mm2[where],
            self.release_mm2[where], self.release_ends_deg[where], self.inlet_pa[where], self.inlet_k[where],
            self.wall_k[where], self.ambient_pa[where],
        )  # fmt: skip


def swept(angle_deg: FloatArray, geometry: Geometry) -> FloatArray:
    """Volume that the piston has yet to sweep before top dead centre.

    Args:
        angle_deg: crank angle before top dead centre [deg], shape (N,).
        geometry: cylinder of the class [m3, m, 1], scalar.

    Returns:
        Volume above the piston without the clearance [m3], shape (N,).

    Valid: 0-180 deg, crank to rod below 0.5.
    Source: slider-crank identity.
    """
    th = np.deg2rad(angle_deg)
    lam = geometry.crank_to_rod
    rod = (1.0 - np.sqrt(1.0 - (lam * np.sin(th)) ** 2)) / lam
    return np.asarray(geometry.displacement_m3 / 2.0 * (1.0 - np.cos(th) + rod))


def _wetted_area(geometry: Geometry, swept_m3: float) -> float:
    return 2.0 * geometry.piston_m2 + np.pi * geometry.bore_m * swept_m3 / geometry.piston_m2


ROWS = 15  # working arrays of a march
_ROUND = 1.0 / (1.0 - CRITICAL)  # the ellipse of the flow function, its half axis


class March:
    """One block of machines on its way to the top, in working arrays that are made once for all blocks.

    With v the volume over the displacement, the state is q = ln(p / ambient) + gamma ln v and
    y = q - (gamma - 1) ln v - ln T, the logarithm of the mass but for a constant. `floor` is gamma ln v, so that
    ambient over pressure is exp(floor - q); `warm` is (gamma - 1) ln v, so that the temperature is exp(q - warm - y).
    """

    def __init__(self, s: Stroke, geometry: Geometry, grid_deg: tuple[float, ...], room: Room) -> None:
        (
            self.q, self.y, self.floor, self.warm, self.inverse, self.ratio, self.temperature, self.lost, self.cooled,
            self.trial_q, self.trial_y, self.trial_lost, self.trial_cooled, self.least_ratio, self.volume,
        ) = room[:, : s.begin_deg.size]  # fmt: skip
        kind = room.dtype
        self.s = s
        self.grid = np.asarray(grid_deg, dtype=np.float64)
        self.sweep = swept(self.grid, geometry) / geometry.displacement_m3
        self.heat = [_wetted_area(geometry, float(v) * geometry.displacement_m3) for v in self.sweep]
        self.clearance = (s.clearance_m3 / geometry.displacement_m3).astype(kind)
        self.begin = (s.clearance_m3 + swept(s.begin_deg, geometry)) / geometry.displacement_m3
        self.most = self.begin.astype(kind)
        self.wall_k, self.ambient_pa = s.wall_k.astype(kind), s.ambient_pa.astype(kind)
        per_degree = 0.5 / (6.0 * s.speed_rpm * geometry.displacement_m3)  # half: Heun takes the mean of two rates
        suck = -1e-6 * AIR_GAMMA * np.sqrt(AIR_GAS_CONSTANT) * CHOKED * _ROUND
        self.leak_shut = (suck * s.leak_mm2 * per_degree).astype(kind)
        self.leak_open = (suck * (s.leak_mm2 + s.release_mm2) * per_degree).astype(kind)
        film = (AIR_GAMMA - 1.0) * constants.value("compression_heat_w_m2k")
        self.film = (film * per_degree / s.ambient_pa).astype(kind)
        self.begins = (float(s.begin_deg.min()), float(s.begin_deg.max()))
        self.ends = (float(s.release_ends_deg.min()), float(s.release_ends_deg.max()))

    def run(self, table: FloatArray | None) -> FloatArray:
        """March to the top; the state at each angle goes into the table of shape (2, K, N) where there is one."""
        s = self.s
        np.copyto(self.volume, self.most)
        self._at_volume()
        q = np.log(s.inlet_pa / s.ambient_pa) + AIR_GAMMA * np.log(self.begin)
        y = q - (AIR_GAMMA - 1.0) * np.log(self.begin) - np.log(s.inlet_k)
        self.q[:], self.y[:], self.least_ratio[:] = q, y, s.ambient_pa / s.inlet_pa
        last = self.grid.size - 1
        for k in range(last):
            begun = self.grid[k + 1] < self.begins[1]  # else no cylinder is closed yet: the step would change none
            if begun or table is not None:
                self._state(self.q, self.y)
            if table is not None:
                self._look(table[:, k])
            if begun:
                self._step(k)
        ending = np.empty((2, self.q.size)) if table is None else table[:, last]
        self._state(self.q, self.y)
        self._look(ending)
        peak = s.ambient_pa / np.minimum(self.least_ratio, self.ratio)
        return np.stack((peak, ending[0], ending[1], np.exp(self.y - y)))

    def _look(self, out: FloatArray) -> None:
        """Pressure and temperature of the moment."""
        np.divide(self.ambient_pa, self.ratio, out=self.lost)
        np.copyto(out[0], self.lost)
        np.copyto(out[1], self.temperature)

    def _passes(self, k: int) -> Room | float:
        """Degrees of this step that lie after each cylinder closed."""
        step = float(self.grid[k] - self.grid[k + 1])
        if self.grid[k] <= self.begins[0]:
            return step
        return np.asarray(np.clip(self.s.begin_deg - self.grid[k + 1], 0.0, step), dtype=self.q.dtype)

    def _opening(self, k: int) -> Room:
        """What the openings of this step let through, the release by its share of the step."""
        if self.grid[k] <= self.ends[0]:
            return np.asarray(self.leak_shut)
        if self.grid[k + 1] >= self.ends[1]:
            return np.asarray(self.leak_open)
        step = float(self.grid[k] - self.grid[k + 1])
        released = np.asarray(np.clip((self.grid[k] - self.s.release_ends_deg) / step, 0.0, 1.0), dtype=self.q.dtype)
        return np.asarray(self.leak_shut + (self.leak_open - self.leak_shut) * released)

    def _step(self, k: int) -> None:
        """Heun: rates here, a trial step, rates there, the mean of both."""
        passed = self._passes(k)
        leak, film = self._opening(k) * passed, self.film * passed
        np.minimum(self.least_ratio, self.ratio, out=self.least_ratio)
        self._rates(leak, film, self.heat[k], self.trial_lost, self.trial_cooled)
        np.add(self.clearance, self.sweep[k + 1], out=self.volume)
        if self.grid[k + 1] > self.begins[0]:
            np.minimum(self.volume, self.most, out=self.volume)
        self._at_volume()
        np.add(self.trial_lost, self.trial_lost, out=self.lost)
        np.add(self.trial_cooled, self.trial_cooled, out=self.cooled)
        self._settle(self.trial_q, self.trial_y)
        self._state(self.trial_q, self.trial_y)
        self._rates(leak, film, self.heat[k + 1], self.lost, self.cooled)
        self.lost += self.trial_lost
        self.cooled += self.trial_cooled
        self._settle(self.q, self.y)

    def _at_volume(self) -> None:
        np.divide(1.0, self.volume, out=self.inverse)
        np.log(self.volume, out=self.floor)
        np.multiply(self.floor, AIR_GAMMA - 1.0, out=self.warm)
        self.floor *= AIR_GAMMA

    def _state(self, q: Room, y: Room) -> None:
        """Ambient over pressure, and temperature."""
        np.subtract(self.floor, q, out=self.ratio)
        np.exp(self.ratio, out=self.ratio)
        np.subtract(q, self.warm, out=self.temperature)
        self.temperature -= y
        np.exp(self.temperature, out=self.temperature)

    def _rates(self, leak: Room, film: Room, area: float, lost: Room, cooled: Room) -> None:
        """What half of the step would take by leak and by cooling, of the logarithm of pressure."""
        np.subtract(self.ratio, CRITICAL, out=lost)
        np.maximum(lost, 0.0, out=lost)
        lost *= lost
        np.subtract(1.0 / _ROUND**2, lost, out=lost)
        np.maximum(lost, 0.0, out=lost)
        lost *= self.temperature
        np.sqrt(lost, out=lost)
        lost *= self.inverse
        lost *= leak
        np.subtract(self.wall_k, self.temperature, out=cooled)
        cooled *= self.ratio
        cooled *= self.inverse
        cooled *= film
        cooled *= area

    def _settle(self, q: Room, y: Room) -> None:
        """Apply leak and heat to the state at the step's start; a leak never draws the pressure below ambient."""
        # With hardly any charge the walls would rule it within a step; the bound keeps such a step from swinging.
        np.maximum(self.cooled, -_MOST_COOLED, out=self.cooled)
        np.minimum(self.cooled, _MOST_COOLED, out=self.cooled)
        self.cooled += self.q
        self.lost += self.cooled
        np.minimum(self.cooled, self.floor, out=q)
        np.maximum(q, self.lost, out=q)
        np.subtract(q, self.cooled, out=self.cooled)
        self.cooled *= 1.0 / AIR_GAMMA
        np.add(self.y, self.cooled, out=y)
