"""Draw the pictures of the chapters on fuel, mixture, governing and driven load.

Run: python docs/physics/plot_fuel_speed.py
"""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl

mpl.use("svg")
import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes

from firstpull.engine import blade_stop, fuel, hunting, mixture

HERE = Path(__file__).parent
mpl.rcParams.update({"svg.hashsalt": "firstpull", "font.size": 9, "axes.grid": True, "grid.alpha": 0.3})


def save(axes: Axes, name: str, across: str, up: str) -> None:
    """Label a picture and write it beside its chapter."""
    axes.set_xlabel(across)
    axes.set_ylabel(up)
    axes.legend(frameon=False)
    plt.gcf().savefig(HERE / f"{name}.svg", metadata={"Date": None}, bbox_inches="tight")


def picture() -> Axes:
    """An empty picture."""
    return plt.subplots(figsize=(6.0, 3.4))[1]


def vapour_picture() -> None:
    """Share evaporated over temperature, for choke and fuel."""
    celsius, axes = np.linspace(-15.0, 40.0, 111), picture()
    same = np.ones_like(celsius)
    for supply, name in ((3.65, "choke shut"), (0.9, "choke open")):
        for rvp in (62.0, 20.0):
            share = fuel.evaporated_share(supply * same, celsius, rvp * same, 101.325)
            axes.plot(celsius, share, label=f"{name}, {rvp:.0f} kPa")
    axes.set_ylim(0.0, 1.02)
    save(axes, "fuel-vapour", "temperature, C", "share of the fuel that is vapour")


def mixture_picture() -> None:
    """Burning, torque, steadiness, smoke and popping over mixture."""
    phi, axes = np.linspace(0.4, 2.6, 221), picture()
    for law, name in (
        (mixture.burns_share, "burns"), (mixture.torque_share, "torque"), (mixture.steadiness, "steadiness"),
        (mixture.black_smoke_chance, "black smoke"), (mixture.lean_pop_chance, "pops back"),
    ):  # fmt: skip
        axes.plot(phi, law(phi), label=name)
    save(axes, "mixture", "mixture strength phi", "share or chance")


def hunting_picture() -> None:
    """Swing over idle mixture, for three inertias."""
    phi, axes = np.linspace(0.4, 1.2, 81), picture()
    for spin in (0.5, 1.0, 4.0):
        swing = hunting.simulate(phi, np.full(81, spin), np.full(81, 0.12), np.full(81, 0.02))
        axes.plot(phi, 3050.0 * swing.swing_share, label=f"full torque over J w: {spin} /s")
    save(axes, "hunting", "idle mixture phi", "swing to each side, r/min")


def stop_picture() -> None:
    """Stop time over brake torque, for three inertias."""
    torque, axes = np.linspace(1.0, 8.0, 141), picture()
    same = np.ones_like(torque)
    for inertia in (0.02, 0.032, 0.05):
        time = blade_stop.stop_time_s(inertia * same, 319.0 * same, torque, 4.5e-6 * same)
        axes.plot(torque, time, label=f"{inertia} kg m2")
    axes.axhline(3.0, color="0.4", linestyle="--", label="limit of the class")
    axes.set_ylim(0.0, 10.0)
    save(axes, "stop-time", "brake and coasting torque, N m", "stop time from 3050 r/min, s")


if __name__ == "__main__":
    vapour_picture()
    mixture_picture()
    hunting_picture()
    stop_picture()
