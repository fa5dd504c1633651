"""Draw the pictures of the chapters on compression, leak-down, crankcase and burn.

Run: python docs/physics/plot_gas_side.py
"""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl

mpl.use("svg")
import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes

from firstpull.engine import combustion, compression, crankcase, leakdown

HERE = Path(__file__).parent
SEA, ROOM = 101325.0, 293.15
MOWER = compression.Geometry(160e-6, 0.068, 0.044, 0.28)
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


def compression_picture() -> None:
    """Peak pressure over leak, at three speeds."""
    leak, axes = np.linspace(0.01, 4.0, 160), picture()
    same = np.ones_like(leak)
    for rpm in (150.0, 450.0, 900.0):
        stroke = compression.Stroke(
            same * 130.0, same * 160e-6 / 7.5, same * rpm, 0.75 * leak, same * 0.0, same * 50.0, same * SEA,
            same * ROOM, same * ROOM, same * SEA,
        )  # fmt: skip
        axes.plot(leak, (compression.compress(stroke, MOWER).peak_pa - SEA) / 1e3, label=f"{rpm:.0f} r/min")
    axes.set_ylim(bottom=0.0)
    save(axes, "compression", "total leak area, mm2", "peak above ambient, kPa (no release)")


def leakdown_picture() -> None:
    """Reading over leak for three reference openings."""
    leak, axes = np.linspace(0.0, 2.0, 200), picture()
    supply, ambient = np.full(200, SEA + 550e3), np.full(200, SEA)
    for reference in (0.2, 0.3, 0.81):
        cylinder = leakdown.cylinder_pressure(leak / reference, supply, ambient)
        axes.plot(leak, leakdown.reading_percent(cylinder, supply, ambient), label=f"reference {reference} mm2")
    save(axes, "leakdown", "total leak area, mm2", "reading, %")


def crankcase_picture() -> None:
    """Pressure left over time for four leaks."""
    axes, seconds = picture(), np.linspace(0.0, 20.0, 81)
    one = np.ones(1)
    for area in (3e-4, 1e-3, 3e-3, 1e-2):
        left = [crankcase.pressure_left(48e3, float(s), one * area, 100e-6, one * SEA, one * ROOM)[0] for s in seconds]
        axes.plot(seconds, np.array(left) / 1e3, label=f"{area} mm2")
    axes.set_ylim(bottom=0.0)
    save(axes, "crankcase", "time, s", "pressure left, kPa (100 cm3)")


def timing_picture() -> None:
    """Torque over spark: fast law as lines, fine cycle as dots."""
    axes, spark = picture(), np.arange(-20.0, 70.0, 1.0)
    same = np.ones_like(spark)
    for phi in (0.85, 1.0, 1.25):
        burn = combustion.burn_duration(same * phi, same * 0.08, same * 3000.0, same)
        line = axes.plot(spark, combustion.timing_share(spark, burn), label=f"phi {phi}")[0]
        fired = combustion.fired_cycle(
            MOWER, same * 160e-6 / 7.5, same * 130.0, spark, burn, combustion.heat_per_kg(same * phi, same * 0.08),
            same * 3000.0, same * 0.0, same * 0.9 * SEA, same * 340.0, same * SEA,
        )  # fmt: skip
        dots = (fired.work_j / fired.work_j.max())[::5]
        axes.plot(spark[::5], dots, ".", color=line.get_color())
    axes.set_ylim(0.0, 1.05)
    save(axes, "timing", "spark before top dead centre, deg", "torque over best (dots: fine cycle)")


if __name__ == "__main__":
    compression_picture()
    leakdown_picture()
    crankcase_picture()
    timing_picture()
