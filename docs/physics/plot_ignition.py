"""Draw the pictures of the chapter on ignition.

Run: python docs/physics/plot_ignition.py
"""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl

mpl.use("svg")
import matplotlib.pyplot as plt
import numpy as np

from firstpull.engine import breakdown
from firstpull.engine.machine import Machine
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from firstpull.engine.wiring.ignition import break_at, peak_kv

HERE = Path(__file__).parent
mpl.rcParams.update({"svg.hashsalt": "firstpull", "font.size": 9, "axes.grid": True, "grid.alpha": 0.3})
NO_LEAK = 1e12
CASES: tuple[tuple[str, float, dict[str, float]], ...] = (
    ("healthy", NO_LEAK, {}),
    ("air gap 1.2 mm", NO_LEAK, {"air_gap_mm": 1.2}),
    ("magnets 0.6", NO_LEAK, {"magnet_strength": 0.6}),
    ("3 % of turns shorted", NO_LEAK, {"shorted_share": 0.03}),
    ("stop lead leaks 50 ohm", 50.0, {}),
    ("stop lead leaks 5 ohm", 5.0, {}),
)


def ignition_picture() -> None:
    """Voltage at the tester over speed, for a healthy coil and five faults."""
    rpm = np.geomspace(120.0, 3600.0, 500)
    axes = plt.subplots(figsize=(6.0, 3.6))[1]
    for name, leak, changes in CASES:
        params = {key: np.full(rpm.size, value) for key, value in {"trigger_family": 0.0, **changes}.items()}
        machine = Machine(params, {}, Conditions(air_c=20.0), Arrangement(), Setup(), rpm.size)
        across = np.full(rpm.size, leak)
        axes.semilogx(rpm, peak_kv(machine, break_at(machine, rpm, across), across, "none"), label=name)
    one = np.ones(1)
    asked = float(breakdown.asked_kv(4.2 * one, one, 0.75 * one)[0])
    axes.axhline(asked, color="black", linewidth=0.8, linestyle="--", label="tester, 4.2 mm")
    axes.set_xlabel("crank speed, r/min")
    axes.set_ylabel("peak voltage, kV")
    axes.set_xticks([150, 250, 400, 600, 1000, 2000, 3600], labels=["150", "250", "400", "600", "1000", "2000", "3600"])
    axes.minorticks_off()
    axes.legend(frameon=False, fontsize=8)
    plt.gcf().savefig(HERE / "ignition.svg", metadata={"Date": None}, bbox_inches="tight")


if __name__ == "__main__":
    ignition_picture()
